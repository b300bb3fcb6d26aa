package realize

import "slices"

// treatise is a source and the traditions it speaks for: a book of one
// country, time or sign is no witness for another.
type treatise struct {
	Source
	of []string // keys of traditions; none means every one
}

// sources are what the rules rest on. "Read" was read in the source or in a
// faithful new setting of it; "reported" is known through a later writer, an
// extract or a digest; "memory" was not looked up. The Versuch (read in the
// printing of 1759) is cited by chapter and section: 2.3 is the third section,
// trills, of chapter 2. It is cited for J.S. Bach, whose pupil its author was,
// and for Vienna, where it was taught from.
//
//words:texts Text
var sources = map[string]treatise{
	// England.
	"purcell":       {Source{Text: "Rules for Graces, in The Harpsicord Master (1697) and H. Purcell, A Choice Collection of Lessons, 3rd ed. (1699)", Status: StatusMemory}, []string{"english"}},
	"grove-oblique": {Source{Text: "Grove, A Dictionary of Music and Musicians, vol. 1 (1879), Appoggiatura, on the oblique signs of the 17th century", Status: StatusReported}, []string{"english"}},
	// France.
	"danglebert":       {Source{Text: "J.-H. d'Anglebert, Pièces de clavecin (1689), table of ornaments, from a modern extract", Status: StatusReported}, []string{"french"}},
	"danglebert-pince": {Source{Text: "J.-H. d'Anglebert, Pièces de clavecin (1689), table of ornaments, pincé", Status: StatusMemory}, []string{"french"}},
	"couperin1713":     {Source{Text: "F. Couperin, Pièces de clavecin, book 1 (1713), table of ornaments", Status: StatusMemory}, []string{"french"}},
	"couperin1716":     {Source{Text: "F. Couperin, L'art de toucher le clavecin (1716), the chapter on ornaments", Status: StatusRead}, []string{"french"}},
	"newgrove-fr":      {Source{Text: "K.-M. Ng, Ornaments, §7: French Baroque, in The New Grove, 2nd ed. (2001)", Status: StatusReported}, []string{"french"}},
	"duffin":           {Source{Text: "R. Duffin, Baroque Ornamentation I: Agréments (course notes, Case Western Reserve University)", Status: StatusReported}, []string{"french"}},
	"neumann":          {Source{Text: "F. Neumann, Ornamentation in Baroque and Post-Baroque Music (1978), on French coulés", Status: StatusMemory}, []string{"french"}},
	"quantz-pass":      {Source{Text: "J.J. Quantz, Versuch einer Anweisung die Flöte traversiere zu spielen (1752), ch. VIII, passing appoggiaturas, which he calls French", Status: StatusMemory}, []string{"french", "berlin"}},
	// J.S. Bach.
	"bach1720": {Source{Text: "J.S. Bach, Explication unterschiedlicher Zeichen, in the Clavierbüchlein for W.F. Bach (1720)", Status: StatusRead}, []string{"bach"}},
	// The German-speaking lands after 1750.
	"cpe-1-23":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.1 §23–24", Status: StatusMemory}, []string{"bach", "berlin", "vienna"}},
	"cpe-2-5":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.2 §5–7", Status: StatusRead}, []string{"berlin"}},
	"cpe-2-11":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.2 §11", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-2-13":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.2 §13–15", Status: StatusMemory}, []string{"bach", "berlin", "vienna"}},
	"cpe-2-16":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.2 §16", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-2-24":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.2 §24", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-2-tie":   {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.2 §11–12, and J.J. Quantz, Versuch (1752), ch. VIII: before a tie or a rest", Status: StatusMemory}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-5":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §5", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-13":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §13", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-16":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §16", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-18":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §18", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-21":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §21", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-22":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §22–25", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-27":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §27–28", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-3-30":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §30–34", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-4-3":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.4 §1–3", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-4-turn":  {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.4 §1–2, figure of the turn's values", Status: StatusMemory}, []string{"bach", "berlin", "vienna"}},
	"cpe-4-21":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.4 §21–22", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-4-24":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.4 §24", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-4-27":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.4 §27–28", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-4-33":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.4 §33–34", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-5-2":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.5 §2", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-5-3":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.5 §3", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-5-4":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.5 §4", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-5-8":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.5 §8", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-6":       {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.6 §8–11", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-7-3":     {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.7 §3–5", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-7-13":    {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.7 §13", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"cpe-8":       {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.8 §1–4", Status: StatusRead}, []string{"bach", "berlin", "vienna"}},
	"lmozart-9-4": {Source{Text: "L. Mozart, Versuch einer gründlichen Violinschule (1756), ch. IX §4", Status: StatusRead}, []string{"vienna"}},
	"turk-short":  {Source{Text: "D.G. Türk, Klavierschule (1789), ch. III, short appoggiaturas", Status: StatusRead}, []string{"berlin", "vienna"}},
	"turk-turn":   {Source{Text: "D.G. Türk, Klavierschule (1789), ch. IV, on the turn", Status: StatusRead}, []string{"berlin", "vienna"}},
	"turk-dot":    {Source{Text: "D.G. Türk, Klavierschule (1789), through A. Kullak, Die Ästhetik des Klavierspiels (1861)", Status: StatusReported}, []string{"berlin", "vienna"}},
	"milchmeyer":  {Source{Text: "J.P. Milchmeyer, Die wahre Art das Pianoforte zu spielen (1797)", Status: StatusMemory}, []string{"vienna", "romantic"}},
	"badura":      {Source{Text: "E. and P. Badura-Skoda, Mozart-Interpretation (1957), through C. Brown, Classical and Romantic Performing Practice (1999)", Status: StatusReported}, []string{"vienna"}},
	// London.
	"clementi": {Source{Text: "M. Clementi, Introduction to the Art of Playing on the Piano Forte (1801), explanation of the graces", Status: StatusRead}, []string{"london"}},
	// From 1815.
	"hummel":        {Source{Text: "J.N. Hummel, Ausführliche theoretisch-practische Anweisung zum Piano-Forte-Spiel (1828), through C. Brown, Classical and Romantic Performing Practice (1999)", Status: StatusReported}, []string{"romantic"}},
	"spohr":         {Source{Text: "L. Spohr, Violinschule (1832), through C. Brown, Classical and Romantic Performing Practice (1999)", Status: StatusReported}, []string{"romantic"}},
	"czerny":        {Source{Text: "C. Czerny, Pianoforte-Schule op. 500 (1839), through Grove, A Dictionary of Music and Musicians, vol. 3 (1883), Shake", Status: StatusReported}, []string{"romantic"}},
	"czerny-same":   {Source{Text: "C. Czerny, Pianoforte-Schule op. 500 (1839), trills after the same note", Status: StatusMemory}, []string{"romantic"}},
	"chopin-pupils": {Source{Text: "Chopin's pupils, in J. Kleczyński (1880), in K. Mikuli's edition (1880) and in copies he marked for them, through J.-J. Eigeldinger, Chopin vu par ses élèves (1970)", Status: StatusMemory}, []string{"chopin"}},
	// A dictionary of the 1880s on what came before it.
	"grove-agr":     {Source{Text: "Grove, A Dictionary of Music and Musicians, vol. 1 (1879), Agrémens", Status: StatusReported}, []string{"berlin"}},
	"grove-mordent": {Source{Text: "Grove, A Dictionary of Music and Musicians, vol. 2 (1880), Mordent", Status: StatusReported}, []string{"english", "vienna", "london", "romantic"}},
	"grove-shake":   {Source{Text: "Grove, A Dictionary of Music and Musicians, vol. 3 (1883), Shake", Status: StatusReported}, []string{"vienna", "romantic"}},
	"grove-slide":   {Source{Text: "Grove, A Dictionary of Music and Musicians, vol. 3 (1883), Slide", Status: StatusReported}, []string{"berlin"}},
	"grove-turn":    {Source{Text: "Grove, A Dictionary of Music and Musicians, vol. 4 (1889), Turn", Status: StatusReported}, []string{"vienna", "london", "romantic"}},
	// Fingers are nobody's tradition.
	"fingers":  {Source{Text: "F. Couperin, L'art de toucher le clavecin (1716); C.P.E. Bach, Versuch I (1753), ch. 2.3 §10; M. Clementi, Introduction (1801), lessons", Status: StatusRead}, nil},
	"cpe-3-12": {Source{Text: "C.P.E. Bach, Versuch I (1753), ch. 2.3 §12", Status: StatusRead}, nil},
	// Nobody's treatise.
	"file":     {Source{Text: "the score file's own instructions for playing", Status: StatusRead}, nil},
	"common":   {Source{Text: "Common practice; no published source", Status: CommonPractice}, nil},
	"analogy":  {Source{Text: "By analogy with another tradition; no source for this one", Status: CommonPractice}, nil},
	"counted":  {Source{Text: "Counted in recordings (part of (n)ASAP v2.1, Peter et al. 2023, CC BY-NC-SA 4.0): 2,186 played ornaments, 628 places, 40 pieces; pianists on modern pianos", Status: StatusMeasured}, nil},
	"measured": {Source{Text: "Counted in recordings ((n)ASAP v2.1, Peter et al. 2023, CC BY-NC-SA 4.0; Batik-plays-Mozart, Hu and Widmer 2023): 13,987 played ornaments, 4,062 places, 231 pieces; pianists on modern pianos", Status: StatusMeasured}, nil},
}

// speaksFor reports whether a source may be cited for a tradition.
func (t treatise) speaksFor(tradition string) bool {
	return len(t.of) == 0 || slices.Contains(t.of, tradition)
}

// cited returns the keys of a rule's sources that speak for a tradition; where
// none does, what the rule says is an analogy.
func cited(from []string, tradition string) []string {
	var out []string
	for _, key := range from {
		if t := sources[key]; t.speaksFor(tradition) {
			out = append(out, key)
		}
	}
	if len(out) == 0 && len(from) > 0 {
		return []string{"analogy"}
	}
	return out
}
