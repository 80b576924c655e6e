/**
 * Root of f between a and b, whose values fa and fb differ in sign: false position with the Illinois correction (Dowell and Jarratt 1971). Ends
 * where |f| or the interval falls below the tolerances; NaN when f is NaN on the way.
 */
export function falsePosition(
  f: (x: number) => number,
  a: number,
  fa: number,
  b: number,
  fb: number,
  valueLimit: number,
  widthLimit: number,
): number {
  for (let k = 0; k < 60 && Math.abs(b - a) > widthLimit; k++) {
    const x = fa === fb ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa);
    const fx = f(x);
    if (Number.isNaN(fx) || Math.abs(fx) < valueLimit) return Number.isNaN(fx) ? fx : x;
    if (fx * fb < 0) {
      a = b;
      fa = fb;
    } else {
      fa /= 2;
    }
    b = x;
    fb = fx;
  }
  return b;
}
