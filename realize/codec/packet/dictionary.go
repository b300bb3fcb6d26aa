package packet

// dictionary is what the compression expects to meet, the most frequent last.
// It belongs to version 1: a change needs a new version beside it, or no old
// link would open.
const dictionary = `<?xml version="1.0" encoding="UTF-8"?>
<score-partwise version="4.0"><part-list><score-part id="P1"><part-name></part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions><key><fifths></fifths></key><time><beats></beats><beat-type></beat-type></time><staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef></attributes><note><pitch><step></step><alter></alter><octave></octave></pitch><duration></duration><voice>1</voice><type>eighth</type><stem>up</stem><staff>1</staff><beam number="1">begin</beam><notations></notations></note><backup></measure>
tradition french english bach berlin vienna london romantic prefer performers tuning werckmeister vallotti pitch 415
instrument fortepiano clavichord piano organ harpsichord hand both left right hear none
trill.upper turn.between mordent.single appoggiatura plain decision 0 0 free words goal percent rate kinds bars 1-8 title
name fault task unaided day 2026-11-
score X:1\nT:\nC:\nM:4/4\nL:1/16\nQ:1/4=72\nK:C\n%%score {(1 2) (3 4)}\nV:1 clef=treble\nV:2 clef=bass\n[V:1] !trill!!turn!!mordent!!pralltriller!!invertedturn!!arpeggio!{/}(3 | \\\n[V:2] z8 | c2d2e2f2 | G,2A,2B,2C2 |]\n`
