//go:build js

package dom

import (
	"fmt"
	"strings"
	"syscall/js"
)

// localStorage is the page's storage. Where it is forbidden altogether the
// getter itself throws, which only a call can catch.
func localStorage() js.Value {
	return global.Get("Reflect").Call("get", global, "localStorage")
}

// Store keeps a value under a key on this device. It fails where nothing may
// be kept (private windows) or the storage is full; what was there stays.
func Store(key, value string) error {
	err := try(func() { localStorage().Call("setItem", key, value) })
	if err != nil {
		return fmt.Errorf("nothing can be kept on this device: %w", err)
	}
	return nil
}

// Load returns what was kept under a key; ok is false when there is nothing.
func Load(key string) (value string, ok bool, err error) {
	var v js.Value
	if err := try(func() { v = localStorage().Call("getItem", key) }); err != nil {
		return "", false, fmt.Errorf("nothing can be read on this device: %w", err)
	}
	if v.Type() != js.TypeString {
		return "", false, nil
	}
	return v.String(), true, nil
}

// StoreTab and LoadTab keep a value for this window alone, as long as it is
// open; a reload finds it.
func StoreTab(key, value string) error {
	return try(func() { tabStorage().Call("setItem", key, value) })
}

// LoadTab returns what [StoreTab] kept.
func LoadTab(key string) (value string, ok bool, err error) {
	var v js.Value
	if err := try(func() { v = tabStorage().Call("getItem", key) }); err != nil || v.Type() != js.TypeString {
		return "", false, err
	}
	return v.String(), true, nil
}

func tabStorage() js.Value {
	return global.Get("Reflect").Call("get", global, "sessionStorage")
}

// OnStored calls f with the key that another window of this site has changed.
func OnStored(f func(key string)) {
	global.Call("addEventListener", "storage", js.FuncOf(func(_ js.Value, args []js.Value) any {
		if key := args[0].Get("key"); key.Type() == js.TypeString {
			f(key.String())
		}
		return nil
	}))
}

// Forget removes what was kept under a key.
func Forget(key string) error {
	return try(func() { localStorage().Call("removeItem", key) })
}

// Keys returns the keys that begin with a prefix, in any order; none where
// nothing can be read.
func Keys(prefix string) (all []string) {
	_ = try(func() {
		keys := global.Get("Object").Call("keys", localStorage())
		for i := range keys.Length() {
			if key := keys.Index(i).String(); strings.HasPrefix(key, prefix) {
				all = append(all, key)
			}
		}
	})
	return all
}

// Keep asks the browser not to clear this site's storage by itself and
// returns its answer. It blocks.
func Keep() bool {
	storage := global.Get("navigator").Get("storage")
	if !storage.Truthy() || !storage.Get("persist").Truthy() {
		return false
	}
	v, err := await(storage.Call("persist"))
	return err == nil && v.Truthy()
}
