package studio

import (
	"math"

	"agremens/game/class"
	"agremens/game/diary"
	"agremens/game/lesson"
	"agremens/realize/codec/packet"
	"agremens/realize/words"
)

// errNoRoom is why nothing was taken where the device keeps nothing.
var errNoRoom = words.Errorf(nil, "this browser has no room for it, or may keep nothing; save the class as a file and erase what is old")

// File is a file, a pasted text or what a code in a picture said.
type File struct {
	Name string // "" for what has none
	Data []byte
	Err  error // why it could not be read
}

// Students is the teacher's class.
type Students struct{ studio *Studio }

// Class is the class as it is kept now. What it holds must not be changed.
func (k *Students) Class() *class.Class { return k.studio.kept.Class() }

// Today is the day on which the class is looked at, since 1 January 1970.
func (k *Students) Date() int { return k.studio.Today.date() }

// Minute is this minute, since 1 January 1970.
func (k *Students) Minute() int {
	day, minute := k.studio.time.Wall()
	return day*24*60 + minute
}

// ChangeStudent changes a student, "" among them, and reports whether that is kept.
func (k *Students) ChangeStudent(name string, change func(*class.Student)) bool {
	return k.said(k.studio.kept.ChangeOne(name, change))
}

// EraseStudent erases a student, with what the log of this device has of her, and
// reports whether that is kept.
func (k *Students) EraseStudent(name string) bool {
	s := k.Class().Find(name)
	if s == nil {
		return true
	}
	names := append([]string{s.Name}, s.Also...)
	if !k.ChangeClass(func(c *class.Class) { c.Erase(name, k.Minute()) }) {
		return false
	}
	k.studio.Log.Read()
	for _, n := range names {
		if n != "" && !k.studio.Log.Diary.Of(n).Empty() {
			k.studio.Log.Write(func(d *diary.Diary) { d.Erase(n) })
		}
	}
	return true
}

// ChangeClass changes the class, and reports whether that is kept.
func (k *Students) ChangeClass(change func(*class.Class)) bool {
	return k.said(k.studio.kept.Change(change))
}

func (k *Students) said(err error) bool {
	if err != nil {
		k.studio.page.Say(words.Sentence(k.studio.Words.Say("Nothing was changed in the class: {why}", "{why}", k.studio.Words.Tell(errNoRoom))))
	}
	return err == nil
}

// Give notes that students were given tasks, each her own, for a reason.
func (k *Students) Give(names []string, tasks []packet.Task, why string) {
	goal := int(math.Round(k.studio.Desk.Goal()))
	k.ChangeClass(func(c *class.Class) {
		for i, name := range names {
			if s := c.Find(name); s != nil {
				s.Give(tasks[i], goal, why, k.Date())
			}
		}
	})
}

// Take takes in all that came at once: reports, in links, texts and files, and
// files of a class. It shows what became of each.
func (k *Students) Take(files []File) {
	var came []class.Came
	err := k.studio.kept.Change(func(c *class.Class) {
		for _, f := range files {
			came = append(came, k.take(c, f)...)
		}
	})
	if err != nil {
		for i := range came {
			if came[i].Outcome != class.Refused {
				came[i] = class.Came{From: came[i].From, Why: errNoRoom}
			}
		}
	}
	k.studio.page.Reports(came)
}

// take takes in one of them. Every thing that came is named at least once.
func (k *Students) take(c *class.Class, f File) (came []class.Came) {
	if f.Err != nil {
		return []class.Came{{From: f.Name, Why: f.Err}}
	}
	text := string(f.Data)
	if class.Is(text) {
		other, damaged, err := class.Decode(text)
		if err != nil {
			return []class.Came{{From: f.Name, Why: err}}
		}
		one := class.Came{From: f.Name, Outcome: class.Joined, Days: len(other.Students), Damaged: damaged}
		if one.Met = c.Join(other); one.Met.Left > 0 {
			came = append(came, class.Came{From: f.Name, Outcome: class.Full})
		}
		return append([]class.Came{one}, came...)
	}
	tasks, reports := lesson.Packets(text)
	for _, letters := range reports {
		came = append(came, c.Take(f.Name, letters, k.Date()))
	}
	switch {
	case len(came) > 0:
	case len(tasks) > 0:
		came = append(came, class.Came{From: f.Name, Why: class.ErrTask})
	default:
		came = append(came, class.Came{From: f.Name, Why: class.ErrNone})
	}
	return came
}

// Practised is the log of the device.
func (k *Students) Practised() *diary.Diary {
	k.studio.Log.Read()
	return k.studio.Log.Diary
}

// Save returns the class as a file.
func (k *Students) Save() []byte { return []byte(k.Class().Encode()) }

// OpenFiles opens what was chosen or dropped together: all that is for the
// class, and one score or task beside it. What is left over is named.
func (k *Students) OpenFiles(files []File) {
	var mine, rest []File
	for _, f := range files {
		if f.Err != nil || isForClass(f.Data) {
			mine = append(mine, f)
		} else {
			rest = append(rest, f)
		}
	}
	if len(rest) == 1 {
		k.studio.OpenFile(rest[0].Name, rest[0].Data, "")
		rest = nil
	}
	for _, f := range rest {
		mine = append(mine, File{Name: f.Name, Err: class.ErrScore})
	}
	if len(mine) == 1 && mine[0].Err != nil {
		k.studio.page.Say(k.studio.Words.Say("“{name}” could not be read: {error}.", "{name}", mine[0].Name, "{error}", k.studio.Words.Tell(mine[0].Err)))
	} else if len(mine) > 0 {
		k.Take(mine)
	}
}

// isForClass reports whether a file holds reports or a class.
func isForClass(data []byte) bool {
	text := string(data[:min(len(data), maxPacketFile)])
	_, reports := lesson.Packets(text)
	return class.Is(text) || len(reports) > 0
}
