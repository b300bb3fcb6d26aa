package musicxml

import (
	"strconv"
	"strings"
)

// heading gathers title and composer from the places files put them.
type heading struct {
	work, movement, composer string
	year                     int
	credits                  []credit
}

type credit struct {
	text, kind, justify string
	size                float64
}

func (h *heading) read(r *reader, e element) error {
	switch e.name {
	case "work":
		return r.each(func(e element) error {
			if e.name == "work-title" {
				return keep(r, &h.work)
			}
			return nil
		})
	case "movement-title":
		return keep(r, &h.movement)
	case "identification":
		return r.each(func(e element) error {
			if e.name == "creator" && (e.attr("type") == "composer" || e.attr("type") == "") && h.composer == "" {
				return keep(r, &h.composer)
			}
			if e.name == "miscellaneous" {
				return h.readYear(r)
			}
			return nil
		})
	case "credit":
		return h.readCredit(r, e)
	}
	return nil
}

// readYear reads the year of composition where [Encode] keeps it.
func (h *heading) readYear(r *reader) error {
	return r.each(func(e element) error {
		if e.attr("name") != yearField {
			return nil
		}
		s, err := r.text()
		h.year, _ = atoi(s, 1000, 2999)
		return err
	})
}

func keep(r *reader, to *string) error {
	s, err := r.text()
	*to = oneLine(s)
	return err
}

// oneLine joins the words of a text with single spaces and keeps at most 200
// letters of it.
func oneLine(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 200 {
		return string(r[:200])
	}
	return s
}

func (h *heading) readCredit(r *reader, e element) error {
	page := e.attr("page")
	c := credit{}
	first := true
	err := r.each(func(e element) error {
		switch e.name {
		case "credit-type":
			return keep(r, &c.kind)
		case "credit-words":
			if first {
				c.justify = e.attr("justify")
				c.size, _ = strconv.ParseFloat(e.attr("font-size"), 64)
				first = false
			}
			s, err := r.text()
			c.text = oneLine(c.text + " " + s)
			return err
		}
		return nil
	})
	if c.text != "" && (page == "" || page == "1") && len(h.credits) < 50 {
		h.credits = append(h.credits, c)
	}
	return err
}

// Title prefers what the file calls a title to what is printed large.
func (h *heading) Title() string {
	switch {
	case h.work != "" && h.movement != "" && h.work != h.movement:
		return h.work + ": " + h.movement
	case h.work != "":
		return h.work
	case h.movement != "":
		return h.movement
	}
	best := credit{}
	for _, c := range h.credits {
		if c.kind == "title" {
			return c.text
		}
		if c.kind == "" && c.justify == "center" && c.size > best.size {
			best = c
		}
	}
	// Some programs leave the mark of a page number in the heading.
	return strings.TrimSpace(strings.TrimSuffix(best.text, "#"))
}

// Composer falls back to the words printed at the right above the score.
func (h *heading) Composer() string {
	if h.composer != "" {
		return h.composer
	}
	for _, c := range h.credits {
		if c.kind == "composer" {
			return c.text
		}
	}
	for _, c := range h.credits {
		if c.kind == "" && c.justify == "right" {
			return c.text
		}
	}
	return ""
}
