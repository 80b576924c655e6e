const MOST_STEPS = 200;
const PRECISION = 1e-14;

/**
 * Where an increasing function is 0, from `from` on: brackets it with steps that double, then false position in the form of Illinois (Dowell
 * and Jarratt 1971), with a bisection wherever that would not halve the bracket in three steps. To 14 digits.
 */
export function rootOf(f: (x: number) => number, { from, step }: { from: number; step: number }): number {
  let [a, fa] = [from, f(from)];
  if (fa >= 0) return a;
  let [b, fb] = [a + step, f(a + step)];
  for (let width = 2 * step; fb < 0; width *= 2) {
    [a, fa] = [b, fb];
    b += width;
    fb = f(b);
  }
  let wide = b - a;
  for (let k = 1; k < MOST_STEPS && b - a > PRECISION * Math.abs(b); k++) {
    const halve = k % 3 === 0 && b - a > wide / 2;
    if (k % 3 === 0) wide = b - a;
    const x = halve || fb === fa ? (a + b) / 2 : b - (fb * (b - a)) / (fb - fa);
    const fx = f(x);
    if (fx === 0 || x <= a || x >= b) return x;
    if (fx < 0) {
      [a, fa] = [x, fx];
      fb /= 2;
    } else {
      [b, fb] = [x, fx];
      fa /= 2;
    }
  }
  return (a + b) / 2;
}
