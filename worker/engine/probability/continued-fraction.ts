const TINY = 1e-300;
const MOST_LEVELS = 100_000;

/**
 * a1 / (b1 + a2 / (b2 + ...)) by the modified method of Lentz (Thompson and Barnett 1986), to rounding. `term` gives a and b of level k = 1,
 * 2, ...
 */
export function continuedFraction(term: (k: number) => readonly [number, number]): number {
  let [value, c, d] = [TINY, TINY, 0];
  for (let k = 1; k < MOST_LEVELS; k++) {
    const [a, b] = term(k);
    d = 1 / (b + a * d || TINY);
    c = b + a / c || TINY;
    value *= c * d;
    if (Math.abs(c * d - 1) < 2e-16) break;
  }
  return value;
}
