import { describe, expect, it } from 'vitest';
import { cyclesAt, strainAt } from '../../worker/engine/life/index.ts';

/**
 * Worked examples of a fatigue life by a power law, amplitude = a N^b, from Budynas and Nisbett, Shigley's Mechanical Engineering Design (9th ed.).
 * They are stress-life, in kpsi; the law has the same form, and a unit of amplitude drops out. Status: from memory.
 */
const EXAMPLES = [
  // Example 6-2: hot-rolled steel, a = 155 kpsi and b = -0.0785 to three digits; 55 kpsi gives 5.3e5 cycles.
  { name: 'example 6-2', a: 155, b: -0.0785, amplitude: 55, cycles: 5.3e5, tolerance: 0.05 },
  // Problem 6-3: steel of 120 kpsi, a = 161.4 kpsi, b = -0.0716; 70 kpsi gives 116 700 cycles.
  { name: 'problem 6-3', a: 161.4, b: -0.0716, amplitude: 70, cycles: 116_700, tolerance: 0.013 },
];

describe('lives by a power law against worked examples [status: from memory]', () => {
  // Tolerance: half a unit of the last printed digit of a, times 1 / |b|, and of b, times log(life), and of the printed life.
  it.each(EXAMPLES)('$name: $cycles cycles', ({ a, b, amplitude, cycles, tolerance }) => {
    const life = cyclesAt(amplitude, { coefficientPct: a, exponent: b });
    expect(Math.abs(life.cycles / cycles - 1)).toBeLessThan(tolerance);
  });

  it('example 6-2: 75 kpsi are borne for 10 000 cycles', () => {
    // Printed to two digits, 0.7 %.
    expect(Math.abs(strainAt(1e4, { coefficientPct: 155, exponent: -0.0785 }) / 75 - 1)).toBeLessThan(0.007);
  });
});
