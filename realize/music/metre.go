package music

import "fmt"

// Metre is a time signature. The zero value means none.
type Metre struct {
	Beats, Unit int // 6, 8 for six eighths
	Symbol      MetreSymbol
}

// MetreSymbol is how a time signature is printed.
type MetreSymbol uint8

// Symbols of time signatures.
const (
	Fraction   MetreSymbol = iota
	CommonTime             // C
	CutTime                // ¢
)

// Bar returns the length of a full measure in quarter notes.
func (m Metre) Bar() Frac {
	if m.Unit == 0 {
		return Int(4)
	}
	return F(int64(m.Beats)*4, int64(m.Unit))
}

// Compound reports whether the beat has three parts: 6/8, 9/8, 12/8, 6/4 …
func (m Metre) Compound() bool { return m.Beats > 3 && m.Beats%3 == 0 && m.Unit >= 4 }

// Beat returns the length of the felt beat in quarter notes: a dotted quarter
// in 6/8, a quarter in 3/4, a half in 2/2. In 3/8 it is the eighth.
func (m Metre) Beat() Frac {
	if m.Unit == 0 {
		return Int(1)
	}
	unit := F(4, int64(m.Unit))
	if m.Compound() {
		return unit.Mul(Int(3))
	}
	return unit
}

// String prints "3/4", also where C or ¢ is printed.
func (m Metre) String() string { return fmt.Sprintf("%d/%d", m.Beats, m.Unit) }
