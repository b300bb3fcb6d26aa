//go:build js

package dom

import (
	"strconv"
	"syscall/js"

	"agremens/realize/words"
)

// MaxFile is the size in bytes above which a file is not read at all.
const MaxFile = 64 << 20

// OnFile calls f with each file that is chosen in the file input of that id
// or dropped anywhere on the page. A file that cannot be read comes with an
// error and no data.
func OnFile(id string, f func(name string, data []byte, err error)) {
	take := func(files js.Value) {
		if files.Length() == 0 {
			return
		}
		file := files.Index(0)
		go func() {
			data, err := readFile(file)
			f(file.Get("name").String(), data, err)
		}()
	}
	if input, ok := element(id); ok {
		input.Call("addEventListener", "change", js.FuncOf(func(js.Value, []js.Value) any {
			take(input.Get("files"))
			input.Set("value", "") // the same file may be chosen again
			return nil
		}))
	}
	document.Call("addEventListener", "dragover", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if holdsFiles(args[0]) {
			args[0].Call("preventDefault")
			root.Get("dataset").Set("drop", "")
		}
		return nil
	}))
	document.Call("addEventListener", "dragleave", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if !args[0].Get("relatedTarget").Truthy() {
			root.Call("removeAttribute", "data-drop")
		}
		return nil
	}))
	document.Call("addEventListener", "drop", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if holdsFiles(args[0]) {
			args[0].Call("preventDefault")
			root.Call("removeAttribute", "data-drop")
			take(args[0].Get("dataTransfer").Get("files"))
		}
		return nil
	}))
}

func holdsFiles(event js.Value) bool {
	transfer := event.Get("dataTransfer")
	return transfer.Truthy() && transfer.Get("types").Call("includes", "Files").Truthy()
}

func readFile(file js.Value) ([]byte, error) {
	if size := file.Get("size").Float(); size > MaxFile {
		return nil, words.Errorf(nil, "the file has {size} MB, more than the {most} MB that can be read",
			"{size}", strconv.Itoa(int(size/1e6+0.5)), "{most}", strconv.Itoa(MaxFile/1_000_000))
	}
	buffer, err := await(file.Call("arrayBuffer"))
	if err != nil {
		return nil, words.Errorf(nil, "the file cannot be read: {error}", "{error}", err.Error())
	}
	return bytes(buffer), nil
}

// Download hands the user a file.
func Download(name, mime string, data []byte) error {
	return DownloadParts(name, mime, []Part{NewPart(data)})
}

// DownloadParts hands the user a file made of parts in order.
func DownloadParts(name, mime string, parts []Part) error {
	return try(func() {
		var all []any
		for _, p := range parts {
			all = append(all, p.array)
		}
		blob := global.Get("Blob").New(all, map[string]any{"type": mime})
		url := global.Get("URL").Call("createObjectURL", blob)
		a := document.Call("createElement", "a")
		a.Set("href", url)
		a.Set("download", name)
		a.Call("click")
		after(60_000, func() { global.Get("URL").Call("revokeObjectURL", url) })
	})
}

// Part is a piece of a file, kept by the browser.
type Part struct{ array js.Value }

// NewPart gives the browser bytes to keep.
func NewPart(data []byte) Part {
	array := global.Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(array, data)
	return Part{array}
}

// Copy puts text on the clipboard. It blocks and needs a click before it.
func Copy(text string) error {
	clipboard := global.Get("navigator").Get("clipboard")
	if !clipboard.Truthy() {
		return words.Errorf(nil, "this page has no access to the clipboard")
	}
	_, err := await(clipboard.Call("writeText", text))
	return err
}
