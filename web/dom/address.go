//go:build js

package dom

import "syscall/js"

// Query returns the parameters of the page's address, the last of each name.
func Query() map[string]string {
	params := global.Get("URLSearchParams").New(global.Get("location").Get("search"))
	query := map[string]string{}
	each := js.FuncOf(func(_ js.Value, args []js.Value) any {
		query[args[1].String()] = args[0].String()
		return nil
	})
	defer each.Release()
	params.Call("forEach", each)
	return query
}

// Fragment returns what comes after the # of the page's address.
func Fragment() string {
	hash := global.Get("location").Get("hash").String()
	if hash == "" {
		return ""
	}
	return hash[1:]
}

// OnFragment calls f when the fragment changes.
func OnFragment(f func(fragment string)) {
	global.Call("addEventListener", "hashchange", js.FuncOf(func(js.Value, []js.Value) any {
		go f(Fragment())
		return nil
	}))
}

// Address returns the page's address without query and fragment.
func Address() string {
	location := global.Get("location")
	return location.Get("origin").String() + location.Get("pathname").String()
}

// SetAddress replaces query and fragment ("?a=b#c") without loading anything.
func SetAddress(address string) error {
	return try(func() { global.Get("history").Call("replaceState", js.Null(), "", address) })
}

// Taken reports whether what the address asks for was taken before this load:
// the browser reloads the page, or comes back to it.
func Taken() bool {
	state := global.Get("history").Get("state")
	return state.Type() == js.TypeString && state.String() == taken
}

// SetTaken notes that it was taken.
func SetTaken() {
	_ = try(func() { global.Get("history").Call("replaceState", taken, "") })
}

// taken is the state of a place in the browser's history whose address was taken.
const taken = "taken"
