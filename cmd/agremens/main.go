// Command agremens serves the practice page, builds it as a static site, and
// realizes the ornaments of a score on the command line.
//
//	agremens [serve] [-addr HOST:PORT] [-watch]
//	agremens build -o DIR
//	agremens release -o DIR
//	agremens realize [flags] FILE
//
// It exits 0 when done, 1 when something went wrong (said on standard error,
// with what to do about it), 2 when it was called wrongly.
package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
)

const usage = `usage:
  agremens [serve] [-addr HOST:PORT]   serve the practice page (127.0.0.1:8017)
                   [-watch]            and load it anew when its source changes
  agremens build -o DIR                write the page as a static site
  agremens release -o DIR              write the site as a zip file, and programs
                                       that hold it for each kind of computer
  agremens realize [flags] FILE        realize the ornaments of a score
                                       (agremens realize -h lists the flags)
`

func main() { os.Exit(run(os.Args[1:], os.Stdout, os.Stderr)) }

// run is main without the process around it.
func run(args []string, out, errs io.Writer) int {
	command := "serve"
	if len(args) > 0 && !strings.HasPrefix(args[0], "-") {
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
	case "help":
		fmt.Fprint(out, usage)
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
