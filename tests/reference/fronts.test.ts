import { describe, expect, it } from 'vitest';
import { front } from '../../worker/engine/front/index.ts';
import { deviates } from '../../worker/engine/probability/index.ts';

const { uniform } = deviates(20_261_126, 1);
const among = (from: number, to: number) => from + (to - from) * uniform();
const many = <T>(count: number, make: (k: number) => T): T[] => Array.from({ length: count }, (_, k) => make(k));

/** Test problems of two quantities (Zitzler, Deb and Thiele 2000): f2 = g h(f1, g), the front at g = 1. */
const ZDT = {
  ZDT1: (f1: number, g: number) => g * (1 - Math.sqrt(f1 / g)),
  ZDT2: (f1: number, g: number) => g * (1 - (f1 / g) ** 2),
  ZDT3: (f1: number, g: number) => g * (1 - Math.sqrt(f1 / g) - (f1 / g) * Math.sin(10 * Math.PI * f1)),
};
/** Of ZDT3 the front is in five pieces: the f1 of their ends, as published with the problem (status: from memory, each digit that the grid tells is met). */
const PIECES = [
  [0, 0.0830015349],
  [0.182228728, 0.2577623634],
  [0.4093136748, 0.4538821041],
  [0.6183967944, 0.6525117038],
  [0.8233317983, 0.8518328654],
];

describe('fronts of published test problems', () => {
  it.each(['ZDT1', 'ZDT2'] as const)('%s: the points with g = 1, and no other [Zitzler, Deb and Thiele 2000]', (name) => {
    const on = many(500, () => among(0, 1)).map((f1) => [f1, ZDT[name](f1, 1)]);
    // each of the others has the f1 of one on the front, so that one beats it
    const off = many(2000, (k) => on[k % 500][0]).map((f1) => [f1, ZDT[name](f1, among(1.001, 10))]);
    expect(front([...on, ...off])).toEqual(many(500, (k) => k));
  });

  it('ZDT3: the five pieces of its curve [Zitzler, Deb and Thiele 2000]', () => {
    const step = 1e-5;
    const curve = many(85_200, (k) => [k * step, ZDT.ZDT3(k * step, 1)]);
    const found = front(curve).map((k) => k * step);
    const ends = found.flatMap((f1, k) => [
      ...(k === 0 || f1 - found[k - 1] > 1.5 * step ? [f1] : []),
      ...(k === found.length - 1 || found[k + 1] - f1 > 1.5 * step ? [f1] : []),
    ]);
    expect(ends).toHaveLength(10);
    for (const [k, end] of ends.entries()) expect(Math.abs(end - PIECES.flat()[k])).toBeLessThan(1.01 * step);
  });

  it.each([
    ['DTLZ1', 3, 1],
    ['DTLZ1', 5, 1],
    ['DTLZ2', 3, 2],
    ['DTLZ2', 4, 2],
  ] as const)('%s of %i quantities: the points with g = 0, and no other [Deb, Thiele, Laumanns and Zitzler 2005]', (_, k, power) => {
    // sum f = 1/2 (1 + g), or sum f^2 = (1 + g)^2: drawn on the surface, the others further out along the same ray
    const size = power === 1 ? 0.5 : 1;
    const on = many(300, () => {
      const f = many(k, () => among(0.001, 1));
      const length = f.reduce((sum, each) => sum + each ** power, 0) ** (1 / power);
      return f.map((each) => (size * each) / length);
    });
    const off = many(1500, (j) => {
      const further = among(1.001, 3);
      return on[j % 300].map((each) => each * further);
    });
    expect(front([...off, ...on])).toEqual(many(300, (j) => 1500 + j));
  });
});
