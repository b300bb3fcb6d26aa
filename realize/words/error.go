package words

import "errors"

// Error is an error that can be told in another language: a text with places,
// and what fills them.
type Error struct {
	// Of is the kind of error that it is, for [errors.Is]; nil where it stands
	// for itself.
	Of   error
	Text string
	Fill []string
}

// Errorf returns an error of a kind (or nil) with a text and its fill, as
// [Catalogue.Say] takes them.
func Errorf(of error, text string, fill ...string) error { return &Error{of, text, fill} }

// Error says it in English, after its kind.
func (e *Error) Error() string {
	text := Fill(e.Text, e.Fill...)
	if e.Of != nil {
		return e.Of.Error() + ": " + text
	}
	return text
}

// Unwrap returns its kind.
func (e *Error) Unwrap() error { return e.Of }

// Tell says an error to people. One that is no [Error], nor wraps one, is told
// as it is.
func (c *Catalogue) Tell(err error) string {
	var e *Error
	switch {
	case err == nil:
		return ""
	case errors.As(err, &e):
		return c.Say(e.Text, e.Fill...)
	}
	return err.Error()
}

// Message is a text with places and what fills them, to be said in whichever
// language is asked for.
type Message struct {
	Text string
	Fill []string
}

// String says it in English.
func (m Message) String() string { return Fill(m.Text, m.Fill...) }

// In says it in a language.
func (m Message) In(c *Catalogue) string { return c.Say(m.Text, m.Fill...) }
