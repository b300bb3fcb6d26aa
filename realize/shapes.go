package realize

import "agremens/realize/music"

func q(n, d int64) music.Frac { return music.F(n, d) }

func d(parts ...int64) []music.Frac {
	sum := int64(0)
	for _, p := range parts {
		sum += p
	}
	out := make([]music.Frac, len(parts))
	for i, p := range parts {
		out[i] = music.F(p, sum)
	}
	return out
}

// shapes are the figures of all traditions. Which one a sign takes in which
// context, and on whose word, stands in the tradition files.
//
//words:texts name one
var shapes = map[string]shape{
	// Trills that last.
	"trill.upper":               {name: "trill from the upper note", time: shake, from: 1},
	"trill.upper.suffix":        {name: "trill from the upper note, with termination", time: shake, from: 1, suffix: true},
	"trill.main":                {name: "trill from the main note", time: shake, from: 0},
	"trill.main.suffix":         {name: "trill from the main note, with termination", time: shake, from: 0, suffix: true},
	"trill.main.suffix.triplet": {name: "trill from the main note, the termination as a triplet", time: shake, from: 0, suffix: true, late3: true},
	"trill.main.straight":       {name: "trill from the main note, the termination straight after the upper note", time: shake, from: 0, suffix: true, endUpper: true},
	"trill.joined":              {name: "trill tied from the note before", time: shake, from: 1, joined: true},
	"trill.joined.suffix":       {name: "tied trill with termination", time: shake, from: 1, joined: true, suffix: true},
	"trill.below":               {name: "trill from below", time: shake, steps: []int{-1, 0}, from: 1},
	"trill.below.suffix":        {name: "trill from below, with termination", time: shake, steps: []int{-1, 0}, from: 1, suffix: true},
	"trill.above":               {name: "trill from above, through a turn", time: shake, steps: []int{1, 0, -1, 0}, from: 1},
	"trill.above.suffix":        {name: "trill from above, through a turn, with termination", time: shake, steps: []int{1, 0, -1, 0}, from: 1, suffix: true},
	"trill.leaned":              {name: "trill with appoggiatura", time: shake, from: 1, leaned: q(1, 2)},
	"trill.leaned.suffix":       {name: "trill with appoggiatura and termination", time: shake, from: 1, leaned: q(1, 2), suffix: true},
	"trill.leaned.two-thirds":   {name: "plain note and shake", time: shake, from: 1, leaned: q(2, 3)},
	"trill.leaned.quarter":      {name: "trill with its first note held", time: shake, from: 1, leaned: q(1, 4), suffix: true},
	"trill.stop":                {name: "trill that stops on the main note", time: shake, from: 1, stop: q(1, 2)},
	"trill.two":                 {name: "measured trill, two notes to each note of the other hand", time: shake, from: 1, grid: 2},
	"trill.three":               {name: "measured trill, three notes to each note of the other hand", time: shake, from: 1, grid: 3},
	"trill.four":                {name: "measured trill, four notes to each note of the other hand", time: shake, from: 1, grid: 4},
	"trill.upper.open":          {name: "trill that ends on its upper note", time: shake, from: 1, endUpper: true},
	"trill.main.open":           {name: "trill from the main note that ends on its upper note", time: shake, from: 0, endUpper: true},
	"trill.couperin": {name: "trill with appoggiatura and a stop", time: shares, steps: []int{1, 0, 1, 0, 1, 0, 1, 0},
		d: d(8, 1, 1, 1, 1, 1, 1, 2)},
	"trill.danglebert": {name: "trill with appoggiatura, to the end of the note", time: shares, steps: []int{1, 0, 1, 0, 1, 0, 1, 0},
		d: d(5, 1, 1, 1, 1, 1, 1, 1)},
	"trill.leaned.stop":   {name: "trill with appoggiatura, one repercussion and a stop", time: shares, steps: []int{1, 0, 1, 0}, d: d(4, 1, 1, 2)},
	"trill.clementi.stop": {name: "shake with a stop", time: shares, steps: []int{1, 0, 1, 0, 1, 0}, d: d(1, 1, 1, 1, 1, 15)},
	"trill.leaned.bach":   {name: "appoggiatura and trill", time: shares, steps: []int{1, 0, 1, 0, 1, 0}, d: d(2, 1, 1, 1, 1, 2), absorbs: true},

	// Short trills.
	"short.six":    {name: "short trill of six notes", time: snap, steps: []int{1, 0, 1, 0, 1, 0}, hold: q(1, 4)},
	"short.four":   {name: "short trill of four notes", time: snap, steps: []int{1, 0, 1, 0}, hold: q(1, 4)},
	"short.three":  {name: "short trill of three notes, from the main note", time: snap, steps: []int{0, 1, 0}, hold: q(1, 3)},
	"short.two":    {name: "main note and upper note only", time: even, steps: []int{0, 1}},
	"short.half":   {name: "passing shake", time: snap, steps: []int{0, 1, 0}, hold: q(1, 2)},
	"short.joined": {name: "short trill tied from the note before", time: snap, steps: []int{1, 0, 1, 0}, joined: true, hold: q(1, 2)},
	"short.early":  {name: "short trill before the beat", time: early, steps: []int{0, 1}},

	// Mordents.
	"mordent.single":    {name: "mordent", time: snap, steps: []int{0, -1, 0}, hold: q(1, 2)},
	"mordent.double":    {name: "double mordent", time: snap, steps: []int{0, -1, 0, -1, 0}, hold: q(1, 4)},
	"mordent.seven":     {name: "long mordent of seven notes", time: snap, steps: []int{0, -1, 0, -1, 0, -1, 0}, hold: q(1, 2)},
	"mordent.nine":      {name: "long mordent of nine notes", time: snap, steps: []int{0, -1, 0, -1, 0, -1, 0, -1, 0}, hold: q(1, 2)},
	"beat.six.clementi": {name: "long beat from the lower note", time: shares, steps: []int{-1, 0, -1, 0, -1, 0}, d: d(1, 1, 1, 1, 1, 15)},
	"mordent.two":       {name: "main note and lower note only", time: snap, steps: []int{0, -1}, hold: q(1, 2)},
	"mordent.together":  {name: "mordent struck together and released", steps: []int{0, -1}, time: simultaneous},
	"beat.four":         {name: "beat from the lower note", time: snap, steps: []int{-1, 0, -1, 0}, hold: q(1, 2)},
	"beat.leaning":      {name: "port de voix and mordent", time: shares, steps: []int{-1, 0, -1, 0}, d: d(4, 1, 1, 2)},
	"beat.leaning.two":  {name: "port de voix and double mordent", time: shares, steps: []int{-1, 0, -1, 0, -1, 0}, d: d(8, 1, 1, 1, 1, 4)},

	// Turns.
	"turn.held":          {name: "turn from the upper note, the last note held", time: snap, calm: true, steps: []int{1, 0, -1, 0}, hold: q(1, 4)},
	"turn.even":          {name: "turn in four equal notes", time: even, steps: []int{1, 0, -1, 0}},
	"turn.main":          {name: "turn from the main note", time: snap, calm: true, steps: []int{0, 1, 0, -1, 0}, hold: q(1, 5)},
	"turn.four":          {name: "turn from the main note in four notes", time: even, steps: []int{0, 1, -1, 0}},
	"turn.triplet":       {name: "plain note and turn", time: shares, steps: []int{0, 1, 0, -1, 0}, d: d(3, 1, 1, 1, 6), absorbs: true},
	"turn.late":          {name: "turn at speed, just before the next note", time: late, steps: []int{0, 1, 0, -1, 0}},
	"turn.late.half":     {name: "turn in the second half", time: late, steps: []int{0, 1, 0, -1, 0}, at: q(1, 2)},
	"turn.late.third":    {name: "turn in the last third", time: late, steps: []int{0, 1, 0, -1, 0}, at: q(2, 3)},
	"turn.late.quarter":  {name: "turn in the last quarter", time: late, steps: []int{0, 1, 0, -1, 0}, at: q(3, 4)},
	"turn.late.sixth":    {name: "late, quick turn", time: late, steps: []int{0, 1, 0, -1, 0}, at: q(5, 6)},
	"turn.dot":           {name: "turn on a dotted note, its last note on the dot", time: shares, steps: []int{0, 1, 0, -1, 0}, d: d(3, 1, 1, 1, 3)},
	"turn.dot.quick":     {name: "turn just before the dot", time: shares, steps: []int{0, 1, 0, -1, 0}, d: d(9, 1, 1, 1, 6)},
	"turn.dots":          {name: "turn between two dots", time: shares, steps: []int{0, 1, 0, -1, 0}, d: d(9, 1, 1, 1, 9), beyond: q(1, 6)},
	"turn.assimilated":   {name: "turn inside the triplet of the other hand", time: assimilated, steps: []int{0, 1, 0, -1, 0}},
	"turn.trilled":       {name: "trilled turn", time: snap, steps: []int{1, 0, 1, 0, -1, 0}, joined: true, hold: q(3, 8)},
	"turn.trilled.turk":  {name: "trilled turn", time: shares, steps: []int{1, 0, 1, 0, -1, 0}, joined: true, d: d(2, 2, 2, 3, 3, 12)},
	"turn.trilled.upper": {name: "trilled turn, its first note struck", time: snap, steps: []int{1, 0, 1, 0, -1, 0}, hold: q(3, 8)},
	"turn.inverted":      {name: "turn from below", time: snap, calm: true, steps: []int{-1, 0, 1, 0}, hold: q(1, 2)},
	"turn.inverted.even": {name: "turn from below in four equal notes", time: even, steps: []int{-1, 0, 1, 0}},
	"turn.inverted.main": {name: "turn from the main note, lower note first", time: snap, steps: []int{0, -1, 0, 1, 0}, hold: q(1, 5)},
	"turn.inverted.late": {name: "turn from below in the second half", time: late, steps: []int{0, -1, 0, 1, 0}, at: q(1, 2)},

	// Slides and double appoggiaturas.
	"slide.two":        {name: "slide of two notes", time: snap, steps: []int{-2, -1, 0}, hold: q(1, 2)},
	"slide.three":      {name: "slide of three notes", time: snap, steps: []int{-1, 0, 1, 0}, hold: q(1, 2)},
	"slide.falling":    {name: "falling slide of two notes", time: snap, steps: []int{2, 1, 0}, hold: q(1, 2)},
	"slide.dotted":     {name: "dotted slide", time: shares, steps: []int{-2, -1, 0, silence}, d: d(3, 1, 2, 1), beyond: q(1, 6), absorbs: true, loud: true},
	"slide.expressive": {name: "slide played broadly", time: shares, steps: []int{-2, -1, 0}, d: d(6, 1, 1), absorbs: true},
	"anschlag.dotted":  {name: "dotted double appoggiatura", time: shares, steps: []int{-1, 1, 0}, d: d(3, 1, 4), absorbs: true, loud: true},
	"slide.early":      {name: "slide before the beat", time: early, steps: []int{-2, -1}},

	// Appoggiaturas and other small notes, as they are printed.
	"lean.print":          {name: "appoggiatura in its printed value", time: lean, lean: byPrint},
	"lean.half":           {name: "appoggiatura taking half the note", time: lean, lean: byHalf},
	"lean.two-thirds":     {name: "appoggiatura taking two thirds of the note", time: lean, lean: byTwoThirds},
	"lean.third":          {name: "appoggiatura taking a third of the note", time: lean, lean: byThird},
	"lean.quarter":        {name: "short appoggiatura, a quarter of the note", time: lean, lean: byQuarter},
	"lean.three-quarters": {name: "appoggiatura taking three quarters of the note", time: lean, lean: byThreeQuarters},
	"lean.tie":            {name: "appoggiatura taking the whole first note, the main note in the tie", time: lean, lean: intoTie},
	"lean.rest":           {name: "appoggiatura taking the whole note, the main note in the rest", time: lean, lean: intoRest},
	"lean.eighth":         {name: "short accented appoggiatura, an eighth of the note", time: lean, lean: byEighth},
	"lean.detached":       {name: "appoggiatura, the main note released early", time: lean, lean: byHalf, cut: true},
	"lean.crush":          {name: "short appoggiatura on the beat", time: lean, lean: byCrush},
	"small.early":         {name: "grace notes before the beat", one: "grace note before the beat", time: early},
	"small.passing":       {name: "passing appoggiatura, in the time of the note before", time: early, passing: true},
	"roll.added":          {name: "chord rolled with the grace notes between its own notes, released at once", time: roll, from: 4, absorbs: true},
	"acciaccatura":        {name: "acciaccatura, struck with the note and released at once", time: simultaneous, absorbs: true},
	"turn.moderate":       {name: "turn in equal sixths, the last note held", time: shares, steps: []int{1, 0, -1, 0}, d: d(1, 1, 1, 3)},
	"small.beat":          {name: "grace notes on the beat", time: printed},
	"small.quick":         {name: "grace notes on the beat, very quick", time: printed, at: q(1, 2)},
	"small.around":        {name: "grace notes around the beat", time: early, at: q(1, 2)},
	"small.astride":       {name: "grace note before the beat, the main note after it", time: early, at: q(1, 4)},
	"small.ahead":         {name: "grace notes and main note before the beat", time: early, ahead: q(1, 4)},
	"small.print":         {name: "grace notes on the beat, in their printed values", time: printed, lean: byPrint},
	"small.closing":       {name: "grace notes at the end of the note", time: closing},

	// The same appoggiaturas where a sign stands and no small note.
	"leaning.upper":         {name: "single appoggiatura from above", time: lean, steps: []int{1}, lean: byHalf},
	"leaning.lower":         {name: "single appoggiatura from below", time: lean, steps: []int{-1}, lean: byHalf},
	"leaning.upper.quarter": {name: "backfall", time: lean, steps: []int{1}, lean: byQuarter},
	"leaning.lower.quarter": {name: "forefall", time: lean, steps: []int{-1}, lean: byQuarter},
	"crushed.upper":         {name: "short appoggiatura from above", time: lean, steps: []int{1}, lean: byCrush},
	"crushed.lower":         {name: "short appoggiatura from below", time: lean, steps: []int{-1}, lean: byCrush},
	"touch.upper":           {name: "upper note touched at the end", time: shares, steps: []int{0, 1}, d: d(7, 1)},
	"touch.lower":           {name: "lower note touched at the end", time: shares, steps: []int{0, -1}, d: d(7, 1)},

	// Thirds filled in.
	"third.up":   {name: "third filled in, rising", time: filled, from: 1},
	"third.down": {name: "third filled in, falling", time: filled, from: -1},

	// Rolls, strokes.
	"roll.beat":         {name: "chord rolled from the beat", time: roll, from: 1},
	"roll.across":       {name: "chord rolled through both hands", time: roll, from: 3},
	"roll.early":        {name: "chord rolled before the beat", time: roll, from: 1, at: q(1, 1)},
	"roll.battery":      {name: "chord broken up and down", time: roll, from: 2},
	"roll.contrary":     {name: "chord rolled the other way", time: roll, from: -1},
	"tremolo.strokes":   {name: "repeated as the tremolo strokes show", time: strokes},
	"as.file":           {name: "as the score file asks", time: instructed, absorbs: true},
	"plain":             {name: "no ornament", time: plain},
	"aspiration.gentle": {name: "note released early", time: shares, steps: []int{0, silence}, d: d(3, 1)},
	"aspiration.sharp":  {name: "note released half-way", time: shares, steps: []int{0, silence}, d: d(1, 1)},
	"suspension.late":   {name: "note delayed", time: shares, steps: []int{silence, 0}, d: d(1, 3)},
}
