//go:build js

package dom

// Texts returns the texts of the page's language in their packed form, "" for
// English. The page's words.js has them before the program starts.
func Texts() string { return text(global.Get("agremens").Get("words")) }

// Language returns the code of the page's language: "en", "de".
func Language() string { return document.Get("documentElement").Get("lang").String() }

// SetLanguage keeps another language for this device and loads the page anew.
// It fails, and changes nothing, where its texts cannot be had or nothing can
// be kept. It blocks.
func SetLanguage(code string) error {
	_, err := await(global.Get("agremens").Call("setLanguage", code))
	return err
}
