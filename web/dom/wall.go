//go:build js

package dom

// Wall returns the date and time of day of the device's own place: days since
// 1 January 1970, and minutes since midnight.
func Wall() (day, minute int) {
	now := global.Get("Date").New()
	local := int(now.Call("getTime").Float()/60_000) - now.Call("getTimezoneOffset").Int()
	return local / (24 * 60), local % (24 * 60)
}
