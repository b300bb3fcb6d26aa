package main

import (
	"fmt"
	"io"
)

var hearExamples = []example{
	{"agremens hear -score in.mxl -bars 5-8 take.wav", "what was played in the recording, note by note"},
	{"agremens hear -score in.mxl -bars 5 -format text take.mid", "the same of a MIDI file, for people"},
}

// listening is what hear was asked for.
type listening struct {
	score, bars, expect, speaker, sounded string
	tempo                                 float64
	beat                                  bool
}

// hearFile listens to a recording and writes what was played.
func hearFile(args []string, out, errs io.Writer) error {
	set, parse := flags("hear", errs)
	var q listening
	set.StringVar(&q.score, "score", "", "the score that was played from")
	set.StringVar(&q.bars, "bars", "", "the bars that were played, by their printed numbers: 5-8 or 5 (default: all)")
	set.Float64Var(&q.tempo, "tempo", 0, "quarter notes per minute that the player was asked for (default: the player's own)")
	set.BoolVar(&q.beat, "beat", false, "the beat sounded from the loudspeaker: hold errors against it")
	set.StringVar(&q.speaker, "speaker", "", "WAV file of what the loudspeaker was sent, on the recording's time scale")
	set.StringVar(&q.sounded, "sounded", "", "this hand sounded from the loudspeaker and is not judged: left or right")
	set.StringVar(&q.expect, "expect", "", "JSON file of the notes to expect, in place of the program's own")
	format := set.String("format", "json", "output format: json or text")
	set.Usage = func() {
		fmt.Fprint(set.Output(), "usage: agremens hear [flags] AUDIO\n\nAUDIO is a WAV or a MIDI file.\n\nexamples:\n"+lines(hearExamples)+"\nflags:\n")
		set.PrintDefaults()
	}
	operands, err := parse(args)
	switch {
	case err != nil:
		return err
	case len(operands) != 1:
		return wrongUse{fmt.Sprintf("hear listens to one file, not %d", len(operands))}
	case q.score == "" && q.expect == "":
		return wrongUse{"hear needs -score or -expect, to know what may be played"}
	case q.tempo != 0 && !(q.tempo >= 5 && q.tempo <= 1000):
		return wrongUse{fmt.Sprintf("-tempo %v is not between 5 and 1000 quarter notes per minute", q.tempo)}
	case q.sounded != "" && q.sounded != "left" && q.sounded != "right":
		return wrongUse{fmt.Sprintf("-sounded %s is neither left nor right", q.sounded)}
	case *format != "json" && *format != "text":
		return wrongUse{fmt.Sprintf("-format %s is neither json nor text", *format)}
	}
	task, err := q.task()
	if err != nil {
		return err
	}
	h, err := q.listen(operands[0], task, errs)
	if err != nil {
		return err
	}
	if *format == "text" {
		_, err = out.Write(h.text())
		return err
	}
	body, err := h.json()
	if err != nil {
		return err
	}
	_, err = out.Write(body)
	return err
}
