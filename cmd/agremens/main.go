// Command agremens serves the practice page, builds it as a static site, and
// realizes the ornaments of a score and listens to recordings of them on the
// command line.
//
//	agremens [serve] [-addr HOST:PORT] [-watch]
//	agremens build -o DIR
//	agremens release -o DIR
//	agremens realize [flags] FILE
//	agremens hear [flags] AUDIO
//
// It exits 0 when done, 1 when something went wrong (reported on standard error,
// with what to do about it), 2 when it was called wrongly.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"
)

const usage = `usage:
  agremens [serve] [-addr HOST:PORT] [-watch]
  agremens build -o DIR
  agremens release -o DIR
  agremens realize [flags] FILE
  agremens hear [flags] AUDIO
  agremens help
`

// example is a call and what it does.
type example struct{ call, does string }

var examples = []example{
	{"agremens", "serve the practice page at http://" + defaultAddr + "/"},
	{"agremens serve -addr 127.0.0.1:9000", "serve it on another port"},
	{"agremens serve -watch", "rebuild and reload it whenever its source changes"},
	{"agremens build -o public", "write the page as a static site for any web host"},
	{"agremens release -o dist", "zip the site, and build programs that contain it"},
}

var realizeExamples = []example{
	{"agremens realize sonata.musicxml", "list every ornament: choices, reasons, sources"},
	{"agremens realize -measures 5-8 sonata.mxl", "only those in bars 5 to 8"},
	{"agremens realize -tradition berlin sonata.krn", "as in Berlin, whoever the composer is"},
	{"agremens realize -format musicxml -o out.musicxml in.mxl", "write the ornaments out as notes"},
	{"agremens realize -format wav -percent 50 -o slow.wav in.abc", "sound, at half the goal tempo"},
	{"agremens realize -format json in.musicxml", "everything, for other programs"},
	{"agremens realize -h", "list all flags"},
}

// lines prints one example a line.
func lines(examples []example) string {
	var b strings.Builder
	for _, e := range examples {
		fmt.Fprintf(&b, "  %-60s %s\n", e.call, e.does)
	}
	return b.String()
}

func help() string {
	return "Agremens reads the ornaments of keyboard scores, to hear and to practise.\n\n" + usage +
		"\nexamples:\n" + lines(examples) + lines(realizeExamples) + lines(hearExamples)
}

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is main without the process around it.
func run(args []string, out, errs io.Writer) int {
	command := "serve"
	switch {
	case len(args) > 0 && slices.Contains([]string{"-h", "-help", "--help"}, args[0]):
		command = "help"
	case len(args) > 0 && !strings.HasPrefix(args[0], "-"):
		command, args = args[0], args[1:]
	}
	var err error
	switch command {
	case "serve":
		err = serve(args, out, errs)
	case "build":
		err = build(args, out, errs)
	case "release":
		err = release(args, out, errs)
	case "realize":
		err = realizeFile(args, out, errs)
	case "hear":
		err = hearFile(args, out, errs)
	case "help":
		fmt.Fprint(out, help())
	default:
		err = wrongUse{fmt.Sprintf("there is no command %q", command)}
	}
	return exit(err, errs)
}

// wrongUse is an error in how the command was called.
type wrongUse struct{ what string }

func (e wrongUse) Error() string { return e.what }

// exit says what went wrong and returns the exit code.
func exit(err error, errs io.Writer) int {
	var wrong wrongUse
	switch {
	case err == nil, errors.Is(err, flag.ErrHelp):
		return 0
	case errors.As(err, &wrong):
		fmt.Fprintf(errs, "agremens: %v\n%s", err, usage)
		return 2
	}
	fmt.Fprintf(errs, "agremens: %v\n", err)
	return 1
}

// flags returns a flag set that reports mistakes as errors, and parse, which
// accepts flags on both sides of the operands and returns the operands.
func flags(name string, errs io.Writer) (set *flag.FlagSet, parse func(args []string) ([]string, error)) {
	set = flag.NewFlagSet("agremens "+name, flag.ContinueOnError)
	set.SetOutput(io.Discard)
	parse = func(args []string) (operands []string, err error) {
		for {
			if err := set.Parse(args); errors.Is(err, flag.ErrHelp) {
				set.SetOutput(errs)
				set.Usage()
				return nil, err
			} else if err != nil {
				return nil, wrongUse{err.Error()}
			}
			if set.NArg() == 0 {
				return operands, nil
			}
			operands = append(operands, set.Arg(0))
			args = set.Args()[1:]
		}
	}
	return set, parse
}
