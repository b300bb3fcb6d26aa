// Package stage draws display lists of package engrave with Ebiten: it is the
// one place that knows Ebiten. It draws what it is given for one moment and
// keeps nothing but what makes drawing cheap.
//
// Every glyph is rasterised once for its size into one texture, and a frame is
// one call with triangles whose edges are a pixel soft. Nothing of ours is
// allocated while frames follow each other.
package stage
