import { describe, expect, it } from 'vitest';
import { makePrinter } from '../../../worker/engine/vary/index.ts';
import { biasAt } from '../../../worker/engine/vary/variation.ts';
import { graphOf } from '../print/samples.ts';
import { NO_VARIATION } from './no-variation.ts';

const ROWS = [
  { angleDeg: 10, biasMm: -0.1 },
  { angleDeg: 50, biasMm: 0.1 },
  { angleDeg: 90, biasMm: 0.06 },
];

describe('bias by the angle to the build axis', () => {
  it('runs straight between rows and keeps the last beyond them', () => {
    expect([0, 10, 30, 50, 70, 90].map((angle) => biasAt(ROWS, angle))).toEqual(
      [-0.1, -0.1, 0, 0.1, 0.08, 0.06].map((bias) => expect.closeTo(bias, 12)),
    );
    expect(biasAt([], 40)).toBe(0);
    expect(biasAt(ROWS.slice(0, 1), 90)).toBe(-0.1);
  });

  it('is that of the strut, either way round', () => {
    const diagonal = Math.tan(Math.PI / 6);
    const graph = graphOf(
      [
        [0, 0, 0],
        [0, 0, 10],
        [10, 0, 0],
        [10 * diagonal, 0, 10],
        [10 * diagonal, 0, -10],
      ],
      [
        [0, 1, 2],
        [2, 0, 2],
        [0, 3, 2],
        [4, 0, 2],
      ],
    );
    const { strutGrowthMm } = makePrinter(graph, { ...NO_VARIATION, biasByAngle: ROWS }, 1)(0);
    expect([...strutGrowthMm]).toEqual([-0.05, 0.03, 0, 0].map((growth) => expect.closeTo(growth, 12)));
  });
});
