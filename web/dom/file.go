//go:build js

package dom

import (
	"strconv"
	"strings"
	"syscall/js"

	"agremens/realize/codec/square"
	"agremens/realize/words"
)

// MaxFile is the size in bytes above which a file is not read at all.
const MaxFile = 64 << 20

// File is a file that was chosen or dropped.
type File struct {
	Name string
	Data []byte
	Err  error // why it could not be read; there is no data then
}

// OnFiles calls f with all files that are chosen together in the file input of
// that id, in their order. Of a picture the data are the codes that are seen
// in it, a line each.
func OnFiles(id string, f func([]File)) {
	input, ok := element(id)
	if !ok {
		return
	}
	input.Call("addEventListener", "change", js.FuncOf(func(js.Value, []js.Value) any {
		take(input.Get("files"), f)
		input.Set("value", "") // the same file may be chosen again
		return nil
	}))
}

// take reads files one after the other.
func take(list js.Value, f func([]File)) {
	if list.Length() == 0 {
		return
	}
	var chosen []js.Value // the list is emptied with its input
	for i := range list.Length() {
		chosen = append(chosen, list.Index(i))
	}
	go func() {
		var files []File
		for _, file := range chosen {
			data, err := readFile(file)
			files = append(files, File{file.Get("name").String(), data, err})
		}
		f(files)
	}()
}

// OnDrop calls f with all files that are dropped together anywhere on the page.
func OnDrop(f func([]File)) {
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
			take(args[0].Get("dataTransfer").Get("files"), f)
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
	if strings.HasPrefix(file.Get("type").String(), "image/") {
		return codesIn(file)
	}
	buffer, err := await(file.Call("arrayBuffer"))
	if err != nil {
		return nil, words.Errorf(nil, "the file cannot be read: {error}", "{error}", err.Error())
	}
	return bytes(buffer), nil
}

// codesIn returns what the codes in a picture say, a line each: as the browser
// reads them, else as we do.
func codesIn(file js.Value) ([]byte, error) {
	picture, err := await(global.Call("createImageBitmap", file))
	if err != nil {
		return nil, words.Errorf(nil, "the picture cannot be opened")
	}
	defer picture.Call("close")
	var lines []byte
	if detector := global.Get("BarcodeDetector"); detector.Truthy() {
		if found, err := await(detector.New(map[string]any{"formats": []any{"qr_code"}}).Call("detect", picture)); err == nil {
			for i := range found.Length() {
				lines = append(append(lines, found.Index(i).Get("rawValue").String()...), '\n')
			}
		}
	}
	// Small enough to be quick, else with all there is.
	for most := 1600; len(lines) == 0; most *= 2 {
		grey, whole, err := greyOf(picture, most)
		if err != nil {
			return nil, words.Errorf(nil, "the picture cannot be opened")
		}
		for _, text := range square.Read(grey) {
			lines = append(append(lines, text...), '\n')
		}
		if whole || most >= 3200 {
			break
		}
	}
	if len(lines) == 0 {
		return nil, words.Errorf(nil, "no code was found in the picture: take it again from the front, with all of the code in it; or ask for the link or the file")
	}
	return lines, nil
}

// greyOf returns a picture in grey, at most so many pixels long; whole says
// that it is not made smaller.
func greyOf(picture js.Value, most int) (p square.Picture, whole bool, err error) {
	wide, high := picture.Get("width").Int(), picture.Get("height").Int()
	long := max(wide, high, 1)
	if whole = long <= most; !whole {
		wide, high = max(wide*most/long, 1), max(high*most/long, 1)
	}
	err = try(func() {
		canvas := document.Call("createElement", "canvas")
		canvas.Set("width", wide)
		canvas.Set("height", high)
		ink := canvas.Call("getContext", "2d")
		ink.Set("fillStyle", "#fff") // under what is clear
		ink.Call("fillRect", 0, 0, wide, high)
		ink.Call("drawImage", picture, 0, 0, wide, high)
		colours := bytes(ink.Call("getImageData", 0, 0, wide, high).Get("data").Get("buffer"))
		p = square.Picture{Wide: wide, High: high, Grey: make([]byte, wide*high)}
		for i := range p.Grey {
			p.Grey[i] = byte((int(colours[4*i]) + 2*int(colours[4*i+1]) + int(colours[4*i+2])) / 4)
		}
	})
	return p, whole, err
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
