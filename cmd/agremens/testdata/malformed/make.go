//go:build ignore

// Writes the malformed scores beside it, and to ../mended those whose fault is
// mended on opening: go run make.go
package main

import (
	"archive/zip"
	"bytes"
	"os"
	"strings"
)

const (
	head  = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
	parts = "<score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>Piano</part-name></score-part></part-list><part id=\"P1\">\n"
	attrs = "<attributes><divisions>4</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>\n"
	note  = "<note><pitch><step>C</step><octave>5</octave></pitch><duration>4</duration><voice>1</voice><type>quarter</type></note>\n"
	end   = "</part></score-partwise>\n"
)

func score(measures string) string { return head + parts + measures + end }

func measure(number, content string) string {
	return "<measure number=\"" + number + "\">" + content + "</measure>\n"
}

func main() {
	whole := score(measure("1", attrs+strings.Repeat(note, 4)) + measure("2", strings.Repeat(note, 4)))
	write("../mended/cut-off.musicxml", whole[:len(whole)*3/4])
	write("not-xml.musicxml", "Dear teacher, please find the score attached.\n")
	write("empty.musicxml", "")
	write("wrong-root.xml", head+"<html><body>Please sign in to download.</body></html>\n")
	write("../mended/negative-duration.musicxml", score(measure("1", attrs+strings.Replace(note, ">4<", ">-4<", 1))))
	write("../mended/missing-divisions.musicxml", score(measure("1", strings.Repeat(note, 4))))
	write("wrong-nesting.musicxml", score(measure("1", attrs+"<note><pitch><step>C</pitch></step></note>")))
	write("entities.musicxml", head+`<!DOCTYPE score-partwise [<!ENTITY a "crotchet crotchet crotchet ">`+
		`<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;&b;&b;&b;&b;">`+
		`<!ENTITY d "&c;&c;&c;&c;&c;&c;&c;&c;&c;&c;"><!ENTITY e "&d;&d;&d;&d;&d;&d;&d;&d;&d;&d;">]>`+
		strings.Replace(parts, "Piano", "&e;", 1)+measure("1", attrs+note)+end)
	write("no-score-inside.mxl", archive("letter.txt", "hello"))
	write("bomb.mxl", archive("META-INF/container.xml", container, "score.musicxml", head+strings.Repeat(" ", 100<<20)))
	write("million-note-bar.mxl", archive("META-INF/container.xml", container, "score.musicxml",
		score(measure("1", attrs+strings.Repeat("<note><rest/><duration>1</duration></note>", 400_000)))))
	write("damaged.mxl", archive("META-INF/container.xml", container, "score.musicxml", whole)[:300])
	write("../mended/unknown-letters.abc", "X:1\nK:C\nc d & % ( [ {\n\"")
}

const container = `<?xml version="1.0"?><container><rootfiles><rootfile full-path="score.musicxml"/></rootfiles></container>`

// archive makes a zip file of names and contents in turn.
func archive(files ...string) string {
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	for i := 0; i < len(files); i += 2 {
		f, err := w.Create(files[i])
		must(err)
		_, err = f.Write([]byte(files[i+1]))
		must(err)
	}
	must(w.Close())
	return b.String()
}

func write(name, content string) { must(os.WriteFile(name, []byte(content), 0o644)) }

func must(err error) {
	if err != nil {
		panic(err)
	}
}
