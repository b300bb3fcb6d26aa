package musicxml

import "strings"

// Letters of the private use area with which programs print signs in words, as
// SMuFL 1.4 numbers them.
const (
	smuflFlat, smuflSharp     = 0xE260, 0xE262 // and the natural between them
	smuflPiano, smuflNiente   = 0xE520, 0xE526
	smuflDynamics, smuflSigns = "pmfrszn", "♭♮♯"
	privateFirst, privateLast = 0xE000, 0xF8FF
	privateName               = "symbol"
)

// plainText turns SMuFL's letters in words into ones that a text font has;
// those without such a letter are left out and counted. dynamics says that the
// words are one level in the letters of a music font.
func (p *part) plainText(s string) (text string, dynamics bool) {
	if !strings.ContainsFunc(s, private) {
		return s, false
	}
	dynamics = true
	var b strings.Builder
	for _, r := range s {
		switch {
		case r >= smuflPiano && r <= smuflNiente:
			b.WriteByte(smuflDynamics[r-smuflPiano])
			continue
		case r >= smuflFlat && r <= smuflSharp:
			b.WriteRune([]rune(smuflSigns)[r-smuflFlat])
		case private(r):
			p.leave(privateName)
			continue
		default:
			b.WriteRune(r)
		}
		dynamics = dynamics && r == ' '
	}
	text = oneLine(b.String())
	return text, dynamics && text != ""
}

func private(r rune) bool { return r >= privateFirst && r <= privateLast }

// leave counts an element that does not reach the passage.
func (p *part) leave(name string) { p.d.left.Add(clip(name)) }

// readLyric reads a syllable. Some programs print dynamics as one; others are
// no keyboard music.
func (p *part) readLyric(w *written, e element) error {
	said := ""
	err := p.r.each(func(e element) error {
		if e.name != "text" {
			return nil
		}
		s, err := p.r.text()
		said = oneLine(said + " " + s)
		return err
	})
	if err != nil || said == "" || e.attr("print-object") == "no" {
		return err
	}
	level, _ := p.plainText(said)
	if !dynamicWords[level] {
		p.leave("lyric")
		return nil
	}
	above, _ := placement(e)
	return p.levelOn(w, level, above)
}
