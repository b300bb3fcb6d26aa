// Package web holds the page: its markup, style, scripts and icons. The
// program itself and the runtime's wasm_exec.js are added when it is built.
package web

import "embed"

// Files are the page's files, all at the top level.
//
//go:embed index.html *.css *.js *.svg *.png *.webmanifest
var Files embed.FS
