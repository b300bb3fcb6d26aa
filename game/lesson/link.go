package lesson

import (
	"errors"
	"net/url"
	"strings"
	"unicode"

	"agremens/realize/codec/packet"
)

// Names of packets in an address's fragment, "#task=…".
const (
	taskName   = "task="
	reportName = "report="
)

// fileHead begins a packet in a file, so that a person who opens it sees what
// it is.
const fileHead = "Agremens "

// Link returns the address that opens a packet; home is where the program
// lives. What stands after the # never leaves the device that opens it.
func Link(home string, kind packet.Kind, letters string) string {
	name := taskName
	if kind == packet.ReportKind {
		name = reportName
	}
	return home + "#" + name + letters
}

// File returns a packet as a file's text.
func File(kind packet.Kind, letters string) []byte {
	name := taskName
	if kind == packet.ReportKind {
		name = reportName
	}
	return []byte(fileHead + name + letters + "\n")
}

// maxBroken is into how many pieces mail may have broken a packet.
const maxBroken = 40

// Packets finds every packet in a text: links, files and bare fragments,
// several of them with anything between, also where mail has broken their
// lines.
func Packets(text string) (tasks, reports []string) {
	if len(text) > 4<<20 || !strings.Contains(text, taskName) && !strings.Contains(text, reportName) {
		return nil, nil
	}
	if strings.Contains(text, "=3D") { // mail as it is saved (RFC 2045, 6.7)
		text = quotedPrintable.Replace(text)
	}
	found := strings.Fields(strings.ReplaceAll(text, fileHead, " "))
	for i, word := range found {
		if at := strings.IndexByte(word, '#'); at >= 0 {
			word = word[at+1:]
		}
		word = strings.Trim(word, marks)
		if letters, ok := strings.CutPrefix(word, taskName); ok && letters != "" {
			tasks = append(tasks, mended(letters, found[i+1:]))
		}
		if letters, ok := strings.CutPrefix(word, reportName); ok && letters != "" {
			reports = append(reports, mended(letters, found[i+1:]))
		}
	}
	return tasks, reports
}

// marks are what mail and sentences put around a link.
const marks = "<>()\"'.,;"

var quotedPrintable = strings.NewReplacer("=\r\n", "", "=\n", "", "=3D", "=", "=3d", "=")

// mended joins a packet that was cut with what follows, where that makes it
// whole.
func mended(letters string, rest []string) string {
	whole := letters
	for i := 0; i < min(len(rest), maxBroken); i++ {
		if _, err := packet.KindOf(whole); !errors.Is(err, packet.ErrCut) {
			break
		}
		if strings.Contains(rest[i], "=") || strings.Contains(rest[i], "#") {
			return letters // another packet begins
		}
		whole += strings.Trim(rest[i], marks)
	}
	if _, err := packet.KindOf(whole); err != nil {
		return letters
	}
	return whole
}

// Home decides which address links begin with: what the teacher set, else the
// page's own. local says that such links open on this computer only.
func Home(page, set string) (home string, local bool) {
	if home, ok := CleanHome(set); ok {
		return home, false
	}
	return page, isLocal(page)
}

// CleanHome checks an address that a teacher typed and brings it into form.
func CleanHome(typed string) (home string, ok bool) {
	typed = strings.TrimSpace(typed)
	if typed == "" {
		return "", false
	}
	if !strings.Contains(typed, "://") {
		typed = "https://" + typed
	}
	u, err := url.Parse(typed)
	if err != nil || u.Scheme != "https" || u.User != nil || !strings.Contains(u.Host, ".") || isLocal(typed) {
		return "", false
	}
	u.RawQuery, u.Fragment = "", ""
	u.Path = strings.TrimSuffix(u.Path, "index.html")
	if u.Path == "" {
		u.Path = "/"
	}
	return u.String(), true
}

// isLocal reports whether an address is this computer's own, or one without
// the safe transport that sound and storage ask for.
func isLocal(address string) bool {
	u, err := url.Parse(address)
	if err != nil || u.Scheme != "https" {
		return true
	}
	host := u.Hostname()
	return host == "localhost" || strings.HasSuffix(host, ".localhost") || host == "::1" || strings.HasPrefix(host, "127.")
}

// FileName names the file of a task or report after its parts.
func FileName(parts ...string) string {
	var words []string
	for _, p := range parts {
		word := strings.Map(func(r rune) rune {
			if unicode.IsLetter(r) || unicode.IsDigit(r) {
				return r
			}
			return ' '
		}, p)
		words = append(words, strings.Fields(word)...)
	}
	name := []rune(strings.Join(words, "-"))
	return string(name[:min(len(name), 60)]) + ".agremens"
}
