package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"os"
	"os/signal"
	"syscall"
	"time"

	"agremens/cmd/agremens/bundle"
	"agremens/cmd/agremens/site"
)

// defaultAddr is reached from this computer alone.
const defaultAddr = "127.0.0.1:8017"

// serve builds the browser program if need be and serves the page until it
// is interrupted.
func serve(args []string, out, errs io.Writer) error {
	set, parse := flags("serve", errs)
	addr := set.String("addr", defaultAddr, "listen on this host and port; port 0 picks a free one")
	watching := set.Bool("watch", false, "rebuild whenever the source changes, and reload the page")
	operands, err := parse(args)
	if err != nil {
		return err
	}
	if len(operands) > 0 {
		return wrongUse{fmt.Sprintf("serve takes no operands, such as %q", operands[0])}
	}
	listener, err := net.Listen("tcp", *addr)
	if err != nil {
		return fmt.Errorf("%w — choose another address with -addr, as in -addr 127.0.0.1:8018", err)
	}
	defer listener.Close()
	stop, cancel := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer cancel()
	open := packedPage
	if *watching {
		open = watchedPage
	}
	handler, err := open(stop, errs)
	if err != nil {
		return err
	}
	machine, _ := os.Hostname() // without a name it is asked for by number
	server := &http.Server{
		Handler:           site.OnlyFor(listener.Addr(), machine, handler),
		ReadHeaderTimeout: 10 * time.Second,
		ReadTimeout:       30 * time.Second,
		IdleTimeout:       2 * time.Minute,
	}
	fmt.Fprintf(out, "http://%s/\n", listener.Addr())
	go func() {
		<-stop.Done()
		server.Close()
	}()
	if err := server.Serve(listener); !errors.Is(err, http.ErrServerClosed) {
		return err
	}
	return nil
}

// packedPage is the page as it is sent to visitors: the one that this program
// holds, else built from source.
func packedPage(_ context.Context, errs io.Writer) (http.Handler, error) {
	if archive, ok := bundle.Archive(); ok {
		s, err := site.FromZip(archive)
		if err != nil {
			return nil, err
		}
		return site.Handler(s), nil
	}
	files, err := pageFiles(errs)
	if err != nil {
		return nil, err
	}
	s, err := site.Pack(files, site.Options{Quality: site.Quick})
	if err != nil {
		return nil, err
	}
	return site.Handler(s), nil
}
