module agremens

go 1.26.0

// The browser program is cut in two by what this release does: see "The next
// release of Go" in DEVELOPERS.md before changing it.
toolchain go1.26.8

require (
	github.com/andybalholm/brotli v1.2.8
	github.com/ebitengine/oto/v3 v3.4.1
	github.com/hajimehoshi/ebiten/v2 v2.9.10
	github.com/leonelquinteros/gotext v1.7.2
	github.com/stretchr/testify v1.12.1
	github.com/yuin/goldmark v1.8.7
	golang.org/x/image v0.47.0
	golang.org/x/text v0.43.0
	golang.org/x/tools v0.52.0
	pgregory.net/rapid v1.3.0
	rsc.io/qr v0.2.0
)

require (
	github.com/ebitengine/gomobile v0.0.0-20250923094054-ea854a63cce1 // indirect
	github.com/ebitengine/hideconsole v1.0.0 // indirect
	github.com/ebitengine/purego v0.9.0 // indirect
	github.com/jezek/xgb v1.1.1 // indirect
	go.yaml.in/yaml/v3 v3.0.5 // indirect
	golang.org/x/sync v0.24.0 // indirect
	golang.org/x/sys v0.49.0 // indirect
)
