package abc

import (
	"fmt"
	"strconv"
	"strings"
)

// accents gives letters under the marks that follow a backslash (ABC 2.1,
// section 8.2): the second rune of each pair is the letter with its accent.
var accents = map[rune]string{
	'`':  "AÀEÈIÌOÒUÙaàeèiìoòuù",
	'\'': "AÁEÉIÍOÓUÚYÝaáeéiíoóuúyýCĆcćNŃnńSŚsśZŹzź",
	'^':  "AÂEÊIÎOÔUÛaâeêiîoôuû",
	'"':  "AÄEËIÏOÖUÜYŸaäeëiïoöuüyÿ",
	'~':  "AÃNÑOÕaãnñoõ",
	'c':  "CÇcçSŞsş",
	'v':  "CČcčSŠsšZŽzžEĚeěRŘrř",
	'o':  "AÅaåUŮuů",
	'/':  "OØoø",
	',':  "CÇcç",
}

// entities are the names of letters that stand between & and ; in a text.
var entities = map[string]string{
	"amp": "&", "quot": "\"", "lt": "<", "gt": ">", "copy": "©", "szlig": "ß", "aelig": "æ", "AElig": "Æ", "oelig": "œ", "OElig": "Œ",
	"agrave": "à", "aacute": "á", "acirc": "â", "auml": "ä", "aring": "å", "Auml": "Ä", "ccedil": "ç", "Ccedil": "Ç",
	"egrave": "è", "eacute": "é", "ecirc": "ê", "euml": "ë", "Eacute": "É", "igrave": "ì", "iacute": "í", "icirc": "î", "iuml": "ï",
	"ntilde": "ñ", "ograve": "ò", "oacute": "ó", "ocirc": "ô", "ouml": "ö", "oslash": "ø", "Ouml": "Ö",
	"ugrave": "ù", "uacute": "ú", "ucirc": "û", "uuml": "ü", "Uuml": "Ü", "yuml": "ÿ",
}

// plainText reads the ways to write letters beyond ASCII in a title or name:
// \'e, &eacute; and \u00e9.
func plainText(text string) string {
	if !strings.ContainsAny(text, "\\&") {
		return text
	}
	r := []rune(text)
	var b strings.Builder
	for i := 0; i < len(r); i++ {
		switch {
		case r[i] == '\\' && i+5 < len(r) && r[i+1] == 'u' && hex(r[i+2:i+6]) > 0:
			b.WriteRune(hex(r[i+2 : i+6]))
			i += 5
		case r[i] == '\\' && i+2 < len(r) && accented(r[i+1], r[i+2]) != 0:
			b.WriteRune(accented(r[i+1], r[i+2]))
			i += 2
		case r[i] == '\\' && i+1 < len(r) && (r[i+1] == '\\' || r[i+1] == '&'):
			b.WriteRune(r[i+1])
			i++
		case r[i] == '&':
			name, _, ok := strings.Cut(string(r[i+1:min(len(r), i+9)]), ";")
			if letter := entities[name]; ok && letter != "" {
				b.WriteString(letter)
				i += len([]rune(name)) + 1
			} else {
				b.WriteRune('&')
			}
		default:
			b.WriteRune(r[i])
		}
	}
	return b.String()
}

func accented(mark, letter rune) rune {
	pairs := []rune(accents[mark])
	for k := 0; k+1 < len(pairs); k += 2 {
		if pairs[k] == letter {
			return pairs[k+1]
		}
	}
	return 0
}

// hex reads four digits of a printable letter, 0 if they are none.
func hex(digits []rune) rune {
	n, err := strconv.ParseUint(string(digits), 16, 32)
	if err != nil || n < ' ' || n >= 0xD800 && n < 0xE000 || n >= 0xFFFE {
		return 0
	}
	return rune(n)
}

// continued adds a +: line to the field before it.
func (p *parser) continued(text string, at place) error {
	switch p.last {
	case 'T':
		if n := len(p.title); n > 0 && !p.body {
			p.title[n-1] += " " + plainText(text)
		}
	case 'C':
		p.composer = strings.TrimSpace(p.composer + " " + plainText(text))
	case 'w', 'W', 's', 'A', 'B', 'D', 'F', 'G', 'H', 'N', 'O', 'R', 'S', 'Z', 'r':
		// What is left out, or told elsewhere, goes on.
	default:
		p.warn(at, "the field {name}: cannot be continued", "{name}", string(p.last))
	}
	return nil
}

// oldTempo turns the outdated forms C=120 and C3=40 (ABC 2.1, section 10.1),
// which count in unit notes, into the present one.
func (p *parser) oldTempo(text string) string {
	rest, ok := strings.CutPrefix(text, "C")
	if !ok {
		return text
	}
	count, perMinute, ok := strings.Cut(rest, "=")
	n := 1
	if count = strings.TrimSpace(count); count != "" {
		var err error
		if n, err = strconv.Atoi(count); err != nil || n < 1 || n > 64 {
			return text
		}
	}
	if !ok {
		return text
	}
	unit := p.unit
	if p.body {
		unit = p.voice.unit
	}
	if unit.Sign() <= 0 {
		return fmt.Sprintf("%d/8=%s", n, perMinute) // L: is not known yet
	}
	return fmt.Sprintf("%d/%d=%s", int64(n)*unit.Num(), 4*unit.Den(), perMinute)
}
