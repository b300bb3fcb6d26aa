package tap

import "math"

// The climb raises and lowers the tempo between rounds so that about four
// rounds in five are clean. The rule is a weighted staircase: where a clean
// round raises the tempo by one step and any other lowers it by four, the
// tempo settles where 0.8 × 1 step up = 0.2 × 4 steps down (Kaernbach 1991,
// from memory). Until the first round that is not clean the steps are large,
// so that a start chosen too low costs few rounds.
//
// Steps are ratios. The pattern of notes never changes with the tempo.
const (
	climbStep    = 0.03 // of the logarithm of the tempo, upward after a clean round
	climbOpening = 0.12 // the same until the first round that is not clean
	climbDown    = 4 * climbStep
	// climbFloor is the slowest practice tempo as a share of the goal.
	climbFloor = 0.3
	// climbGoal is how many clean rounds at the goal make a success: then it
	// is time for the piano.
	climbGoal = 2
	// climbRest is how many rounds in a row that are not clean call for a
	// pause, and climbLong how many rounds at all: about ten minutes.
	climbRest = 3
	climbLong = 20
	// subdivideBeat is the beat, ms, above which a click between the beats
	// helps: below 90 a minute beats are hard to hold (reference, scoring
	// advice after the 1997 study of 3- to 11-year-olds, whose spread is
	// least at 500 ms at every age).
	subdivideBeat = 60000.0 / 90
)

// ClimbState says whether another round follows.
type ClimbState string

// States of a climb. Pause is an offer: rest first, and stop for the day at
// any pain.
const (
	Climbing ClimbState = "climbing"
	Arrived  ClimbState = "arrived"
	Pause    ClimbState = "pause"
)

// PauseReason says why a pause is offered.
type PauseReason string

// Reasons of a pause: getting less and less even, three rounds in a row that
// were not clean, or twenty rounds since the last one.
const (
	PauseTired  PauseReason = "tired"
	PauseUneven PauseReason = "uneven"
	PauseLong   PauseReason = "long"
)

// Climb is a staircase under way. It is a value: Next returns the next one.
type Climb struct {
	Goal  float64 // felt beats a minute
	Tempo float64 // of the next round
	State ClimbState
	Round int // rounds judged so far
	// Clean counts clean rounds in a row at the goal, Unclean rounds in a row
	// that were not clean.
	Clean, Unclean int
	Why            PauseReason // of a pause
	opened         bool
	uneven         []float64
}

// NewClimb starts at a comfortable tempo towards a goal, both in felt beats a
// minute. A start outside the range from 30 % of the goal to the goal is
// brought into it. It panics where the goal is not above 0.
func NewClimb(start, goal float64) Climb {
	if !(goal > 0) || !finite(goal) {
		panic("tap: climb without a goal tempo")
	}
	if !(start > 0) {
		start = climbFloor * goal
	}
	return Climb{Goal: goal, Tempo: clamp(start, climbFloor*goal, goal), State: Climbing}
}

// Outcome is what the climb needs to know of a round.
type Outcome struct {
	Clean bool
	// Uneven is the scatter of the round's quick notes as a share of their
	// interval, 0 unknown.
	Uneven float64
	// Void rounds (spoilt, dropped by the player, too short) change nothing.
	Void bool
}

// OutcomeOf reads an outcome off a judged round. Uncertain for want of a known
// lead is no reason to void a round; one that is spoilt or has too few taps is void.
func OutcomeOf(r Result) Outcome {
	var uneven []float64
	for _, o := range r.Ornaments {
		if o.Uneven.Known {
			uneven = append(uneven, o.Uneven.V)
		}
	}
	return Outcome{Clean: r.Clean, Uneven: median(uneven), Void: r.Spoilt != "" || r.Hit < certainLeast}
}

// Next returns the climb after a round. A climb that has arrived stays where
// it is; after a pause a round goes on from the tempo the pause was offered at.
func (c Climb) Next(o Outcome) Climb {
	if o.Void || c.State == Arrived {
		return c
	}
	c.State, c.Why = Climbing, ""
	c.Round++
	if o.Uneven > 0 {
		c.uneven = append(append([]float64(nil), c.uneven...), o.Uneven)
	}
	atGoal := c.Tempo >= c.Goal*(1-1e-9)
	switch {
	case !o.Clean:
		c.opened, c.Clean = true, 0
		c.Unclean++
		c.Tempo = math.Max(climbFloor*c.Goal, c.Tempo*math.Exp(-climbDown))
	case atGoal:
		c.Unclean = 0
		if c.Clean++; c.Clean >= climbGoal {
			c.State = Arrived
			return c
		}
	default:
		c.Unclean, c.Clean = 0, 0
		step := climbStep
		if !c.opened {
			step = climbOpening
		}
		c.Tempo = math.Min(c.Goal, c.Tempo*math.Exp(step))
	}
	switch {
	case Tired(c.uneven):
		c.Why = PauseTired
	case c.Unclean >= climbRest:
		c.Why = PauseUneven
	case c.Round%climbLong == 0:
		c.Why = PauseLong
	default:
		return c
	}
	c.State, c.Unclean, c.uneven = Pause, 0, nil
	return c
}

// Subdivided reports whether the next round should have a click between the beats.
func (c Climb) Subdivided() bool { return 60000/c.Tempo > subdivideBeat+1e-9 }

// Tired reports whether the last three rounds got less even: each at least a
// tenth more than the one before, and the last half as much again as the
// three before them.
func Tired(uneven []float64) bool {
	n := len(uneven)
	if n < 6 {
		return false
	}
	a, b, c := uneven[n-3], uneven[n-2], uneven[n-1]
	return b > 1.1*a && c > 1.1*b && c > 1.5*mean(uneven[n-6:n-3])
}
