package studio

import (
	"agremens/game/paper"
	"agremens/game/shelf"
	"agremens/realize/codec/abc"
	"agremens/realize/score"
)

// LayPaper puts a place on paper on the desk: as a new passage, or in place of
// the one with an id.
func (s *Studio) LayPaper(f *paper.Form, id string) error {
	p, note, err := f.Passage()
	if err != nil {
		return err
	}
	s.layAnew(shelf.Item{ID: id, Kind: shelf.Paper, Name: p.Title}, f.Save(), p, nil)
	s.Desk.SelectNote(note)
	s.made()
	return nil
}

// LayTyped puts a typed passage on the desk: in place of a typed one that lies
// there, else as a new one.
func (s *Studio) LayTyped(text string) error {
	p, warnings, err := ReadTyped(text)
	if err != nil {
		return err
	}
	if p.Title == "" {
		p.Title = s.Words.Say("Typed passage")
	}
	item := shelf.Item{Kind: shelf.Typed, Name: p.Title}
	if it, _, ok := s.Own(shelf.Typed); ok {
		item.ID = it.ID
	}
	s.layAnew(item, text, p, s.inLines(warnings))
	s.made()
	return nil
}

// layAnew lays a passage that was just made: what was set at an earlier one of
// its name holds no longer.
func (s *Studio) layAnew(item shelf.Item, data string, p *score.Passage, warnings []string) {
	s.page.Hush()
	id := s.keepPassage(item, []byte(data))
	s.Passages.ForgetDesk(id)
	s.lay(id, p, warnings, nil)
}

func (s *Studio) made() {
	s.Changed()
	s.Rounds.Ready()
	s.page.Status(s.Words.Say("{name} is open.", "{name}", s.Desk.Passage.Title))
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

func (s *Studio) inLines(warnings []abc.Warning) []string {
	var lines []string
	for _, w := range warnings {
		lines = append(lines, w.In(s.Words))
	}
	return lines
}
