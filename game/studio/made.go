package studio

import (
	"agremens/game/paper"
	"agremens/game/shelf"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

// LayPaper puts a place on paper on the desk: as a new passage, or in place of
// the one with an id.
func (o *Scores) LayPaper(f *paper.Form, id string) error {
	p, note, err := f.Passage()
	if err != nil {
		return err
	}
	o.layAnew(shelf.Item{ID: id, Kind: shelf.Paper, Name: p.Title}, f.Save(), p, nil)
	o.studio.Desk.SelectNote(note)
	o.made()
	return nil
}

// LayTyped puts a typed passage on the desk: in place of a typed one that lies
// there, else as a new one.
func (o *Scores) LayTyped(text string) error {
	p, warnings, err := ReadTyped(text)
	if err != nil {
		return err
	}
	if p.Title == "" {
		p.Title = o.studio.Words.Say("Typed passage")
	}
	item := shelf.Item{Kind: shelf.Typed, Name: p.Title}
	if it, _, ok := o.studio.Own(shelf.Typed); ok {
		item.ID = it.ID
	}
	o.layAnew(item, text, p, o.inLines(warnings))
	o.made()
	return nil
}

// layAnew lays a passage that was just made: what was set at an earlier one of
// its name holds no longer.
func (o *Scores) layAnew(item shelf.Item, data string, p *score.Passage, warnings []string) {
	o.studio.page.Hush()
	id := o.studio.keepPassage(item, []byte(data))
	o.studio.Passages.ForgetDesk(id)
	o.lay(id, p, warnings, nil)
	o.studio.used()
}

func (o *Scores) made() {
	o.studio.Changed()
	o.studio.Rounds.Ready()
	o.studio.page.Status(o.studio.Words.Say("{name} is open.", "{name}", o.studio.Desk.Passage.Title))
}

// ReadTyped reads typed text; a score without a bar is none.
//
//words:texts What Mend
func ReadTyped(text string) (*score.Passage, []abc.Warning, error) {
	p, warnings, err := abc.Decode(text)
	if err == nil && len(p.Measures) == 0 {
		err = &abc.Error{Line: 1, Column: 1, What: "there are no notes yet", Mend: "type some after the line K:, as in K:C and below it C D E F|"}
	}
	return p, warnings, err
}

func (o *Scores) inLines(warnings []abc.Warning) []string {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, w.In(o.studio.Words))
	}
	return lines
}
