package tone

import (
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"

	"agremens/synth"
	"agremens/synth/tuning"
)

// ErrNothing says that there is nothing to compare with.
var ErrNothing = errors.New("no recordings: install fluidsynth, fluid-soundfont-gm, musescore-general-soundfont, timgm6mb-soundfont, sox and npm")

// recordedAs says what the instruments are compared with.
var recordedAs = map[synth.Instrument]string{
	"piano": "piano", "organ": "organ",
	"harpsichord": "harpsichord", "harpsichord-single": "harpsichord", "harpsichord-full": "harpsichord",
}

// Bench prints the tables and writes the page into the bank's folder.
func Bench(w io.Writer, b Bank) error {
	for _, need := range []string{fluid, musescore, timgm} {
		if _, err := os.Stat(need); err != nil {
			return ErrNothing
		}
	}
	for _, need := range []string{"fluidsynth", "sox", "npm"} {
		if _, err := exec.LookPath(need); err != nil {
			return ErrNothing
		}
	}
	for _, s := range Sources {
		if err := b.Make(s, Keys[:]); err != nil {
			return err
		}
	}
	for _, i := range instruments() {
		what, recorded := recordedAs[i.Key]
		if !recorded {
			fmt.Fprintf(w, "\n%s: nothing recorded to compare with\n", i.Name)
			continue
		}
		for _, judges := range []bool{false, true} {
			sources := Of(what, judges)
			if len(sources) == 0 {
				continue
			}
			title := i.Name + ", beside"
			for _, s := range sources {
				title += " " + s.Name + ";"
			}
			if err := b.table(w, title, i.Key, sources); err != nil {
				return err
			}
		}
	}
	if err := b.repeats(w); err != nil {
		return err
	}
	for _, i := range instruments() {
		var sources []Source
		for _, s := range Of(recordedAs[i.Key], false) {
			if s.font != "" { // the sampled grand from npm has no dampers
				sources = append(sources, s)
			}
		}
		if len(sources) == 0 {
			continue
		}
		rows, err := b.ends(string(i.Key), sources)
		if err != nil {
			return err
		}
		printEnds(w, i.Name, rows)
	}
	fmt.Fprintf(w, "\nloudness of a passage for two hands and of chords, LUFS\n")
	for _, i := range instruments() {
		loud := func(seq synth.Sequence) float64 {
			return Loudness(synth.RenderSequence(Rate, i.Key, tuning.Tuning{}, seq))
		}
		fmt.Fprintf(w, "%-20s %6.1f %6.1f\n", i.Key, loud(Passage()), loud(Chords()))
	}
	page := filepath.Join(b.Folder, "index.html")
	if err := b.page(page); err != nil {
		return err
	}
	fmt.Fprintf(w, "\nspectra, decays and passages to look at and to hear: %s\n", page)
	return nil
}

func (b Bank) table(w io.Writer, title string, instrument synth.Instrument, sources []Source) error {
	var rows []Row
	for _, key := range Keys {
		for _, strength := range sources[0].strengths() {
			r, err := b.Compare(string(instrument), sources, key, strength)
			if err != nil {
				return err
			}
			rows = append(rows, r)
		}
	}
	Print(w, title, rows)
	return nil
}

// repeats prints how clearly a key of the piano speaks again.
func (b Bank) repeats(w io.Writer) error {
	fmt.Fprintf(w, "\nA piano's key struck twice: dB down between, ms until the second is within 6 dB of the first, s to -30 dB when let go\n%4s %8s %22s", "key", "a second", "ours")
	sources := Of("piano", false)[1:] // the sampled grand from npm has no dampers
	for _, s := range sources {
		fmt.Fprintf(w, " %22s", s.Name)
	}
	fmt.Fprintln(w)
	for _, key := range []int{48, 60, 72, 84} {
		for _, perSecond := range []float64{8, 11, 14} {
			all := []Again{OursAgain("piano", key, perSecond)}
			for _, s := range sources {
				a, err := b.TheirsAgain(s, key, perSecond)
				if err != nil {
					return err
				}
				all = append(all, a)
			}
			fmt.Fprintf(w, "%4d %8.0f", key, perSecond)
			for _, a := range all {
				fmt.Fprintf(w, " %9.1f %5.0f %6.2f", a.Dip, a.Speak, a.Damp)
			}
			fmt.Fprintln(w)
		}
	}
	return nil
}

// instruments are those that sound notes.
func instruments() []synth.InstrumentInfo {
	var out []synth.InstrumentInfo
	for _, i := range synth.Instruments() {
		if i.Key != "click" {
			out = append(out, i)
		}
	}
	return out
}
