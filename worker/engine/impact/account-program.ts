import { laneProgram } from '../lanes/index.ts';
import { DEFORMATIONS, LANES, naturalForces, nextPair, shapeOf } from './strut-shape.ts';

/** Numbers of a strut's two fibres: place, 1 / (E A), r / (E I) of each; see `fibresOf`. */
export const FIBRE_NUMBERS = 6;
/** What an account sums up, in this order; see `CompiledStruts`. */
export const ACCOUNT_NUMBERS = 6;

/**
 * Accounts for all struts at the present positions, before the forces' program moves the memory on to them. A branch's spring holds
 * w = hold q - memory / ratio: it stores 1/2 ratio w K w and its dashpot turns ratio w K w / time into heat. The strain of the outermost fibre at the face
 * where a strut leaves its node sphere is |axial force| / (E A) + r |moment there| / (E I), the moment running straight from one end to the other.
 * Parameters: addresses of the numbers, ends, memory, positions, rotations as in `strutForcesProgram`, of the branches (hold, 1 / ratio, ratio / 2,
 * 2 / time of each), of the fibres (6 per strut, pairs side by side), of the faces' largest strains so far (2 per strut), of the sums, and the count.
 */
export function accountProgram(branches: number): Uint8Array {
  return laneProgram(10, (p) => {
    const [numbers, ends, memory, positions, rotations, factors, fibres, faces, sums, count] = Array.from({ length: 10 }, (_, k) =>
      p.param(k),
    );
    const { add, sub, mul, constant, max } = p;
    // Sums of their own each, to be assigned to.
    const totals = Array.from({ length: ACCOUNT_NUMBERS }, () => sub(constant(0), constant(0)));
    const [strain, stored, loss, peak, sines, backward] = totals;
    const steps = [...nextPair(numbers, ends, memory, branches), [fibres, LANES * FIBRE_NUMBERS], [faces, 2 * LANES]] as const;
    p.repeat(count, steps, () => {
      const { q, ends: sections, e } = shapeOf(p, numbers, ends, positions, rotations);
      const work = (x: typeof q, y: typeof q) => x.map((each, k) => mul(each, y[k])).reduce(add);
      const force = naturalForces(p, q, numbers);
      p.assign(strain, add(strain, mul(constant(0.5), work(q, force))));
      for (let b = 0; b < branches; b++) {
        const factor = (k: number) => p.splat(factors, 8 * (4 * b + k));
        const held = q.map((each, k) => sub(mul(factor(0), each), mul(factor(1), p.load(memory, LANES * (DEFORMATIONS * b + k)))));
        const energy = mul(factor(2), work(held, naturalForces(p, held, numbers)));
        p.assign(stored, add(stored, energy));
        p.assign(loss, add(loss, mul(factor(3), energy)));
      }
      for (let end = 0; end < 2; end++) {
        const fibre = (k: number) => p.load(fibres, LANES * (3 * end + k));
        const across = [1, 2].map((k) => sub(mul(fibre(0), add(force[k], force[k + 2])), force[k]));
        const bending = p.sqrt(add(mul(across[0], across[0]), mul(across[1], across[1])));
        const most = add(mul(fibre(1), p.abs(force[0])), mul(fibre(2), bending));
        p.assign(peak, max(peak, most));
        p.store(faces, LANES * end, max(p.load(faces, LANES * end), most));
        const { z, t1 } = sections[end];
        p.assign(sines, max(sines, z));
        p.assign(backward, max(backward, sub(constant(0), t1.map((each, k) => mul(each, e[k])).reduce(add))));
      }
    });
    totals.forEach((total, k) => p.store(sums, LANES * k, total));
  });
}
