// A score as large as the program takes: 2,000 bars and almost 20 MB.
export function largeScore(bars = 2000, notes = 32, per = '') {
  const out = ['<?xml version="1.0" encoding="UTF-8"?>\n<score-partwise version="4.0"><part-list><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">\n'];
  for (let bar = 1; bar <= bars; bar++) {
    out.push(`<measure number="${bar}">\n`);
    if (bar === 1) out.push(`<attributes><divisions>${notes / 4}</divisions><key><fifths>1</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes>\n`);
    for (const staff of [1, 2]) {
      for (let i = 0; i < notes; i++) {
        const trill = i === 0 && staff === 1 && bar % 2 === 0 ? '<notations><ornaments><trill-mark/></ornaments></notations>\n' : '';
        out.push(`<note>\n <pitch>\n  <step>${'CDEFGAB'[(i + bar) % 7]}</step>\n  <octave>${6 - 2 * staff}</octave>\n </pitch>\n <duration>1</duration>\n <voice>${4 * staff - 3}</voice>\n <type>32nd</type>\n <staff>${staff}</staff>\n${trill}${per}</note>\n`);
      }
      if (staff === 1) out.push(`<backup><duration>${notes}</duration></backup>\n`);
    }
    out.push('</measure>\n');
  }
  out.push('</part></score-partwise>\n');
  return out.join('');
}
