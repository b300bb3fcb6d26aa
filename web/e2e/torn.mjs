// Whether a repeated passage was heard whole, by where its onsets stand.

// turns says how many onsets lie in one turn of a repeated passage: the
// shortest pattern of distances that most of the sound follows.
export function turns(distances) {
  for (let n = 1; n <= distances.length / 3; n++) {
    let same = 0;
    for (let i = n; i < distances.length; i++) {
      if (Math.abs(distances[i] - distances[i - n]) <= 1) same++;
    }
    if (same >= 0.9 * (distances.length - n)) return n;
  }
  return 0;
}

// torn lists where a distance differs from the one a turn earlier.
export function torn(distances, n) {
  const at = [];
  for (let i = n; i < distances.length; i++) {
    const off = distances[i] - distances[i - n];
    if (Math.abs(off) > 1) at.push(`onset ${i}: ${off} frames`);
  }
  return at;
}

export const distances = (onsets) => onsets.slice(1).map((f, i) => f - onsets[i]);
