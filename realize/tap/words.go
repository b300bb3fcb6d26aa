package tap

import (
	"math"
	"strconv"
	"unicode"
	"unicode/utf8"

	"agremens/realize/words"
)

// Phrase is what is said of one finding. Places in braces are filled in:
//
//	{each}      "each trill", "the trill", "nearly every trill"
//	{ornament}  "trill"
//	{hand}      "the right hand", the one in question; {other} the other hand or the beat
//	{size}      "half a sixteenth (110 ms)", or the milliseconds alone
//	{ms}        "110 ms"
//	{percent}   "18 %"
//	{tapped}, {wanted}  numbers of notes; {counted} "2 notes", the tapped ones
//	{answer}    "Starts on its beat: 50 ms late"
//	{early}     "early" or "late"; {fast} "fast" or "slow"
type Phrase struct{ Child, Teacher, Next string }

// Words is everything the judge says, in one language ([WordsIn]).
type Words struct {
	numbers  *words.Catalogue
	Findings map[string]Phrase
	// Single is said in place of Findings where a single note is counted.
	Single map[string]Phrase
	// Values name lengths by their size in quarters ("1/4": "a sixteenth").
	Values      map[string]string
	Right, Left string
	Beat        string // where no other hand sounds
	Ornament    string // an ornament without a name
	// Each, One and Most are {each} for all of several, for one, for most.
	Each, One, Most string
	Early, Late     string
	Fast, Slow      string // a tempo's {fast}
	// By how much, {n}, something is off that is within its limits; Exact is by
	// nothing that is said.
	ByEarly, ByLate, ByFaster, BySlower, Exact string
	Sized                                      string // {value}, {ms}
	Milliseconds                               string // {n}
	Percent                                    string // {n}
	// Few and Lead say why a round is not certain.
	Few, Lead string
	// Rest is the caution beside fast or long practice, Piano what tapping
	// cannot teach, said where success happens.
	Rest, Piano string
	Verdicts    map[Verdict]string
	Answers     [questions]AnswerWords
}

// English returns what is said in English.
func English() *Words { return WordsIn(nil) }

// WordsIn returns what is said in a language.
func WordsIn(c *words.Catalogue) *Words {
	w := sentences()
	w.numbers = c
	for _, text := range []*string{&w.Right, &w.Left, &w.Beat, &w.Ornament, &w.Each, &w.One, &w.Most, &w.Early, &w.Late, &w.Fast, &w.Slow, &w.ByEarly, &w.ByLate, &w.ByFaster, &w.BySlower, &w.Exact,
		&w.Sized, &w.Milliseconds, &w.Percent, &w.Few, &w.Lead, &w.Rest, &w.Piano} {
		*text = c.Say(*text)
	}
	for _, phrases := range []map[string]Phrase{w.Findings, w.Single} {
		for code, p := range phrases {
			phrases[code] = Phrase{c.Say(p.Child), c.Say(p.Teacher), c.Say(p.Next)}
		}
	}
	for key, text := range w.Values {
		w.Values[key] = c.Say(text)
	}
	for v, text := range w.Verdicts {
		w.Verdicts[v] = c.Say(text)
	}
	for q, a := range w.Answers {
		w.Answers[q] = AnswerWords{c.Say(a.Good), c.Say(a.More), c.Say(a.Less), c.Say(a.Unknown)}
	}
	return w
}

// sentences returns all of it in English.
//
//words:texts
func sentences() *Words {
	return &Words{
		Right: "the right hand", Left: "the left hand", Beat: "the beat", Ornament: "ornament",
		Each: "each {ornament}", One: "the {ornament}", Most: "nearly every {ornament}",
		Early: "early", Late: "late", Fast: "fast", Slow: "slow",
		ByEarly: "{n} early", ByLate: "{n} late", ByFaster: "{n} faster", BySlower: "{n} slower", Exact: "exactly",
		Sized: "{value} ({ms})", Milliseconds: "{n} ms", Percent: "{n} %",
		Few:   "Too few notes to be sure.",
		Lead:  "Too few plain notes to tell a late start from your usual lead.",
		Rest:  "Rest first. Stop for today if anything aches, and tell your teacher.",
		Piano: "Now at the piano: the auxiliary, fingering, touch and loudness cannot be heard in tapping.",
		Verdicts: map[Verdict]string{
			Better: "better", Worse: "worse than before", NoClear: "no clear change yet", TooFew: "too few rounds to say",
		},
		Answers: [questions]AnswerWords{
			OnItsBeat: {"Starts on its beat: yes ({off})", "Starts on its beat: {n} late", "Starts on its beat: {n} early",
				"Starts on its beat: not measured"},
			IsEven: {"Even: yes (the notes differ by {n})", "Even: not yet, the notes differ by {n}",
				"Even: not yet, upper and lower notes differ", "Even: not measured"},
			LandsInTime: {"Lands in time: yes ({off})", "Lands in time: {n} late", "Lands in time: {n} early",
				"Lands in time: not measured"},
			BeatSteady: {"The beat around it: steady ({off})", "The beat around it: stretched by {n}",
				"The beat around it: ran ahead by {n}", "The beat around it: not measured"},
		},
		Values: map[string]string{
			"1/16": "half a thirty-second", "1/12": "a third of a sixteenth", "1/8": "half a sixteenth",
			"1/6": "two thirds of a sixteenth", "1/4": "a sixteenth", "3/8": "a dotted sixteenth",
			"1/2": "an eighth", "3/4": "a dotted eighth", "1": "a quarter",
		},
		Single: map[string]Phrase{
			CodeWrongHand: {
				"The hands swapped a note. Look which hand has it.",
				"One note was tapped by the other hand.",
				"Each hand alone once, then both.",
			},
			CodeOtherKeys: {
				"One note was different from the written one.",
				"One note differs from the one planned.",
				"Play the notes slowly, without the beat, then with it.",
			},
			CodeMissed: {
				"One note was missing. Try it slower.",
				"One of {wanted} notes is missing.",
				"The same bars, a step slower.",
			},
			CodeExtra: {
				"You tapped once too often.",
				"One extra tap.",
				"Listen once more, then the same bars again.",
			},
		},
		Findings: map[string]Phrase{
			CodeBroken: {
				"The sound stuttered or stopped. This round does not count.",
				"The sound stuttered or stopped on the way: this round does not count.",
				"Try again.",
			},
			CodeUntapped: {
				"No note was tapped. This round does not count.",
				"No note was tapped: this round does not count.",
				"Wait for the count-in, then tap along from the first note.",
			},
			CodeHardly: {
				"Only {tapped} of {wanted} notes had a tap. This round does not count.",
				"Only {tapped} of {wanted} notes had a tap: this round does not count.",
				"Try again, a step slower.",
			},
			CodeTooFew: {
				"That was too short to tell. Take a bar more.",
				"Too few notes to tell: {tapped} of {wanted} were tapped, and at least six are needed.",
				"Choose a bar more, and tap it again.",
			},
			CodeFewPlain: {
				"There are too few plain notes around the {ornament} to tell whether it starts in time.",
				"Too few plain notes around {each} to tell whether it starts in time: six are needed.",
				"The same with a bar of plain notes before it.",
			},
			CodeShort: {
				"{counted}; the {ornament} needs {wanted}.",
				"{each} has {counted}; it needs {wanted}.",
				"Tap only the {ornament}, counting its notes aloud, four times.",
			},
			CodeLateAfter: {
				"The {ornament} is in time. Then you hesitate: go straight on.",
				"{each} is in time, but what follows comes late, by about {size}.",
				"Tap only its last note and the next two beats, then put its first notes in front.",
			},
			CodeReacting: {
				"You are waiting to hear the beat. Breathe in on the beat before, then go together.",
				"Every beat is late by {size}: following the sound, not feeling the beat.",
				"Count one bar aloud, breathe in on the last beat, and go together.",
			},
			CodeBeforeBeat: {
				"The ornament jumped in before the beat. Here its first note gets the beat.",
				"{each} is played before the beat, with its main note on the beat.",
				"Tap only the ornament's first note, together with {other}, four times.",
			},
			CodeLateStart: {
				"{other} was already there. Start with it, not after it.",
				"{each} starts about {size} after {other}.",
				"Tap only its first note with {other}, four times.",
			},
			CodeEarlyStart: {
				"The ornament's first note came before {other}. Wait for it, then go together.",
				"{each} starts about {size} before {other}.",
				"Tap only its first note with {other}, four times.",
			},
			CodeHandWaits: {
				"{other} waited for {hand}. It keeps the beat, so it mustn't wait.",
				"{other} slows down under {each}, by {percent}.",
				"Tap {other} alone through the bar, then add only the first note of the {ornament}.",
			},
			CodeHandsApart: {
				"Your hands play one after the other. Let them land together.",
				"On plain notes the hands are apart by about {size}.",
				"Tap the plain notes with both hands together, four times.",
			},
			CodeNoEnding: {
				"The ornament's last two notes are missing. They lead into the next note.",
				"The termination of {each} is left out.",
				"Tap only the ornament's last two notes and the next beat, four times.",
			},
			CodeFewerNotes: {
				"You played {tapped} notes; {wanted} were planned. Either can be right, as long as the next beat is in time.",
				"{each} has {tapped} notes instead of {wanted}.",
				"Start with two notes, then four, then all {wanted}.",
			},
			CodeMoreNotes: {
				"You played {tapped} notes; {wanted} were planned. Either can be right, as long as the next beat is in time.",
				"{each} has {tapped} notes instead of {wanted}.",
				"Listen once more, count the ornament's notes, then tap them more slowly.",
			},
			CodeTurnEarly: {
				"The turn came too soon. Hold the long note first, then turn.",
				"The quick notes of {each} begin too early, by about {size}.",
				"Count the long note aloud, and tap only the first note of the turn.",
			},
			CodeTurnTwoQuick: {
				"Two quick notes and a slow one: make the three even.",
				"{each} is played as two quick notes and a slow one: the first two are too quick.",
				"Tap three even notes to a beat, then put them in their place.",
			},
			CodeLimps: {
				"It is uneven: the upper notes are shorter than the lower ones.",
				"{each} is uneven: its upper notes are {percent} shorter than the lower ones.",
				"Half the tempo, with a little weight on the upper notes, three times.",
			},
			CodeLimpsLower: {
				"It is uneven: the lower notes are shorter than the upper ones.",
				"{each} is uneven: its upper notes are {percent} longer than the lower ones.",
				"Half the tempo, with a little weight on the lower notes, three times.",
			},
			CodeCrowdedFront: {
				"The ornament's notes crowd at the beginning.",
				"{each} is bunched at its beginning: its first notes are {percent} shorter than its last.",
				"Half the tempo, all the ornament's notes even; listen for the last ones.",
			},
			CodeCrowdedBack: {
				"The ornament's notes crowd at the end.",
				"{each} is bunched at its end: its first notes are {percent} longer than its last.",
				"Half the tempo, all the ornament's notes even; move on from the first one at once.",
			},
			CodeRushed: {
				"You rushed the ornament and then had to wait.",
				"{each} is rushed: its notes are {percent} shorter than planned.",
				"Count the beats and tap it between them, the last note not too soon.",
			},
			CodeDragged: {
				"The ornament took too long.",
				"{each} drags: its notes are {percent} longer than planned.",
				"A slower tempo, or fewer notes: land on the beat first.",
			},
			CodeLeanShort: {
				"Hold the appoggiatura longer before it resolves.",
				"{each} resolves too soon: the main note is early by about {size}.",
				"Count the appoggiatura's length aloud, and tap the main note only when it is over.",
			},
			CodeLeanLong: {
				"The appoggiatura was held too long.",
				"{each} resolves too late: the main note is late by about {size}.",
				"Count the appoggiatura's length aloud, and tap the main note as soon as it is over.",
			},
			CodeLetsGo: {
				"The key came up too soon. Hold it into the next note.",
				"The keys of {each} are released early, by about {size}.",
				"Hold the appoggiatura until the main note sounds, three times.",
			},
			CodeTired: {
				"The last three rounds were less even. Shake out your hands and stop for today.",
				"The last three rounds were less even: tired.",
				"Stop for today.",
			},
			CodeBump: {
				"There's a bump after the {ornament}.",
				"There is a stop after {each}: {ms} more than planned.",
				"Tap only the last two notes and the next beat, then add notes in front.",
			},
			CodeLandsLate: {
				"The next note was late. Aim for it from the ornament's first note on.",
				"The note after {each} lands late, by about {size}.",
				"Tap only the last two notes and the next beat, then add notes in front.",
			},
			CodeLandsEarly: {
				"The next note was too soon. There is time for the whole ornament.",
				"The note after {each} lands early, by about {size}.",
				"Tap only the last two notes and the next beat, then add notes in front.",
			},
			CodeRushesAfter: {
				"You rushed after the {ornament}.",
				"After {each} the next two beats are faster: +{percent}.",
				"Tap the beat through the two bars; add the {ornament} only the third time.",
			},
			CodeSlowsAfter: {
				"You slowed down after the {ornament}.",
				"After {each} the next two beats are slower: −{percent}.",
				"Tap the beat through the two bars; add the {ornament} only the third time.",
			},
			CodeDrift: {
				"Your tempo changed along the way. Listen to the beat as you tap.",
				"The tempo drifts during the round: {percent} too {fast}.",
				"The same bars with the beat sounding, plain notes only.",
			},
			CodeWrongHand: {
				"The hands swapped some notes. Look which hand has which.",
				"{tapped} notes were tapped by the other hand.",
				"Each hand alone once, then both.",
			},
			CodeSwapped: {
				"Two notes were swapped.",
				"Neighbouring notes were swapped.",
				"Say the notes' names once, then tap them slowly.",
			},
			CodeOtherKeys: {
				"Some notes were different from the written ones.",
				"{tapped} notes differ from those planned.",
				"Play the notes slowly, without the beat, then with it.",
			},
			CodeMissed: {
				"Some notes were missing. Try it slower.",
				"{tapped} of {wanted} notes are missing.",
				"The same bars, a step slower.",
			},
			CodeExtra: {
				"You tapped {tapped} times too often.",
				"{tapped} extra taps.",
				"Listen once more, then the same bars again.",
			},
			CodeUneven: {
				"The ornament's notes are not even yet.",
				"{each} is uneven: the notes differ by {percent}.",
				"Half the tempo, all the ornament's notes even.",
			},
			CodeUnsteady: {
				"Your taps are sometimes before the beat, sometimes after it. Listen to the beat as you tap.",
				"Plain notes vary around the beat by {ms}.",
				"The plain notes first, without the ornament.",
			},
			CodeClean: {
				"Together with {other}, even, and in time.",
				"Starts with {other}, runs evenly and lands in time.",
				"Once more; after two such rounds, at the piano.",
			},
			CodeNearly: {
				"Nearly. Once more, and it will be clear.",
				"No fault is clear yet. {answer}.",
				"The same once more; two rounds tell more than one.",
			},
			CodeCount: {
				"You played {tapped} notes; {wanted} were planned. Either can be right, as long as the next beat is in time.",
				"{tapped} notes, {wanted} were planned: in a free trill either can be right.",
				"Land on the next beat in time.",
			},
			CodeTied: {
				"The first note is tied over: nothing is struck on the beat.",
				"A tied start has no stroke on the beat; the second note is judged.",
				"Listen for the beat inside the long note.",
			},
			CodeLead: {
				"All your taps are a little {early} by the same amount. That is normal.",
				"All taps come {ms} {early}: normal, not a fault.",
				"Nothing to do.",
			},
		},
	}
}

// finding puts a fault into words.
func (w *Words) finding(f fault, r *Result, o Options, quarter float64) Finding {
	p := w.Findings[f.code]
	if one, ok := w.Single[f.code]; ok && f.count[0] == 1 {
		p = one
	}
	fill := w.filler(f, r, o, quarter)
	out := Finding{
		Code: f.code, Ornament: f.ornament, Fault: !f.remark,
		Child: sentence(words.Fill(p.Child, fill...)), Teacher: sentence(words.Fill(p.Teacher, fill...)),
		Next: sentence(words.Fill(p.Next, fill...)),
	}
	if f.ms {
		out.MS = f.size
	} else {
		out.Percent = 100 * f.size
	}
	return out
}

func (w *Words) filler(f fault, r *Result, o Options, quarter float64) []string {
	name := w.Ornament
	if len(f.about) > 0 && f.about[0].Name != "" {
		name = f.about[0].Name
	}
	hand, other := w.Right, w.Left
	if f.hand(r) != 0 {
		hand, other = other, hand
	}
	if o.Alone {
		other = w.Beat
	}
	each := w.Each
	switch {
	case len(f.about) <= 1 || f.ornament != "":
		each = w.One
	case len(f.about) < len(r.Ornaments):
		each = w.Most
	}
	early, fast := w.Late, w.Slow
	if f.size < 0 {
		early, fast = w.Early, w.Fast
	}
	ms := words.Fill(w.Milliseconds, "{n}", strconv.Itoa(round10(f.size)))
	size := ms
	if key, ok := valueOf(f.size, quarter); ok {
		size = words.Fill(w.Sized, "{value}", w.Values[key], "{ms}", ms)
	}
	return []string{
		"{each}", words.Fill(each, "{ornament}", name),
		"{ornament}", name, "{hand}", hand, "{other}", other,
		"{size}", size, "{ms}", ms,
		"{percent}", words.Fill(w.Percent, "{n}", w.numbers.Number(math.Abs(100*f.size), 0)),
		"{counted}", w.numbers.Count(f.count[0], "{n} note", "{n} notes"),
		"{tapped}", strconv.Itoa(f.count[0]), "{wanted}", strconv.Itoa(f.count[1]),
		"{early}", early, "{fast}", fast, "{answer}", f.answer,
	}
}

// doubt says why a round is not certain, "" where it is.
func (w *Words) doubt(r *Result, ornaments bool) string {
	switch {
	case r.Certain:
		return ""
	case r.Hit >= certainLeast && ornaments && !r.Lead.Known():
		return w.Lead
	}
	return w.Few
}

// Tired returns what is said when a climb offers a pause for less and less
// even rounds.
func (w *Words) Tired() Finding {
	p := w.Findings[CodeTired]
	return Finding{Code: CodeTired, Child: p.Child, Teacher: p.Teacher, Next: p.Next + " " + w.Rest}
}

// summary picks the one sentence and the one step.
func (w *Words) summary(findings []Finding, o Options) (said, next string) {
	if len(findings) == 0 {
		return "", ""
	}
	f := findings[0]
	if o.Voice == "child" {
		return f.Child, f.Next
	}
	return f.Teacher, f.Next
}

// sentence starts with a capital.
func sentence(s string) string {
	if s == "" {
		return s
	}
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}
