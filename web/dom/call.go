//go:build js

package dom

import (
	"errors"
	"fmt"
	"syscall/js"

	"agremens/realize/words"
)

// try runs f and returns what JavaScript threw in it.
func try(f func()) (err error) {
	defer func() {
		switch r := recover().(type) {
		case nil:
		case js.Error:
			err = thrown(r.Value)
		case *js.ValueError:
			err = words.Errorf(nil, "the browser lacks it: {error}", "{error}", r.Error())
		default:
			panic(r)
		}
	}()
	f()
	return nil
}

// thrown turns a thrown value into an error.
func thrown(v js.Value) error {
	if v.Type() == js.TypeObject {
		name, message := text(v.Get("name")), text(v.Get("message"))
		if name != "" && name != "Error" {
			return fmt.Errorf("%s (%s)", message, name)
		}
		return errors.New(message)
	}
	return errors.New(v.String())
}

// await waits for a promise. It must not be called from a handler that may
// not block.
func await(promise js.Value) (js.Value, error) {
	type outcome struct {
		value js.Value
		err   error
	}
	done := make(chan outcome, 1)
	kept := js.FuncOf(func(_ js.Value, args []js.Value) any {
		var v js.Value
		if len(args) > 0 {
			v = args[0]
		}
		done <- outcome{value: v}
		return nil
	})
	broken := js.FuncOf(func(_ js.Value, args []js.Value) any {
		done <- outcome{err: thrown(args[0])}
		return nil
	})
	defer kept.Release()
	defer broken.Release()
	promise.Call("then", kept, broken)
	o := <-done
	return o.value, o.err
}

// bytes copies an ArrayBuffer.
func bytes(buffer js.Value) []byte {
	array := global.Get("Uint8Array").New(buffer)
	b := make([]byte, array.Length())
	js.CopyBytesToGo(b, array)
	return b
}
