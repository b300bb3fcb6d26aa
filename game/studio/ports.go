package studio

import (
	"agremens/game/class"
	"agremens/game/conduct"
	"agremens/game/practice"
)

// Page shows what the studio does. It reads the rest from the studio.
type Page interface {
	conduct.Page
	// Engrave lays out what is on the desk, Laid tells that it is another
	// passage. Reveal brings what is selected in sight.
	Engrave()
	Laid()
	Reveal()
	// Student shows the student's page of a task, or the whole desk.
	Student(on bool)
	// Kinds offers kinds of round, those of a task or all there are.
	Kinds(kinds []practice.Kind, task bool)
	// Reports shows the class, and what became of what came.
	Reports(came []class.Came)
	// Who shows who taps, Kept where the last rounds went, Day where the ten
	// minutes stand; LastPage ends them.
	Who()
	Kept()
	Day()
	LastPage()
	// Address puts a fragment into the page's address, in place of whatever
	// it asked for.
	Address(fragment string)
	// Turn lets the page be drawn; Breathe returns what does so now and then.
	Turn()
	Breathe() func()
	// Durable asks for a store that is not cleared by itself.
	Durable()
}

// Time tells the page's time in milliseconds, and the date and time of the
// device's own place: days since 1 January 1970, minutes since midnight.
type Time interface {
	conduct.Time
	Wall() (day, minute int)
}
