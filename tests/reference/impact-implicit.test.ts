import { describe, expect, it } from 'vitest';
import { arrive, drop, prepare, relaxationOf } from '../../worker/engine/impact/index.ts';
import { plainFrame } from '../engine/impact/lattices.ts';
import { doubleShell } from '../engine/lattice/samples.ts';
import { implicitBounce } from './implicit-bounce.ts';

const GRAVITY_MM_S2 = 9806.65;

/** One bounce of one lattice, computed a second, independent way (an implicit integrator that shares nothing with the engine but what a strut's deformations are). */
describe('a bounce by an implicit integrator', () => {
  it('gives the restitution and the contact time of the explicit one within 2 %', () => {
    const found = relaxationOf({ modulusMPa: 60, referenceHz: 30, lossFactor: 0.12 });
    if (found.kind === 'refused') throw new Error(found.message);
    const { relaxation } = found;
    const { graph } = doubleShell(1, 0, [40, 30], [5, 4.5, 4.5]);
    const frame = plainFrame(graph, relaxation.longTermMPa);
    const dropped = { frame, massT: 3e-5, relaxation };
    const heightMm = 800;
    const explicit = drop(dropped, { heightMm, orientations: [{ name: 'as stored', down: [0, 0, -1] }] });
    if (explicit.kind !== 'report') throw new Error(explicit.kind);

    const prepared = prepare(dropped);
    if (prepared.kind !== 'prepared') throw new Error(prepared.message);
    const { model, lattice } = prepared;
    const speedMmS = Math.sqrt(2 * GRAVITY_MM_S2 * heightMm);
    const turn = [1, 0, 0, 0, 1, 0, 0, 0, 1];
    arrive(prepared, { turn, velocity: [0, 0, -speedMmS], spin: [0, 0, 0], friction: 0 });
    // The model has its own order of nodes.
    const inGraphOrder = (list: Float64Array, stride: number) => {
      const ordered = new Float64Array(list.length);
      model.nodeOf.forEach((node, place) => ordered.set(list.subarray(stride * place, stride * place + stride), stride * node));
      return ordered;
    };
    const implicit = implicitBounce({
      frame,
      relaxation,
      mass: inGraphOrder(model.nodes.mass, 1),
      inertia: inGraphOrder(model.nodes.inertia, 1),
      stiffness: inGraphOrder(prepared.stiffness, 1),
      gravityMmS2: GRAVITY_MM_S2,
      positions: inGraphOrder(lattice.motion.positions, 3),
      turn,
      speedMmS,
      stepS: 5e-5,
    });
    const rise = implicit.riseMm + implicit.velocity[2] ** 2 / (2 * GRAVITY_MM_S2);
    const restitution = Math.sqrt(rise / heightMm);
    // Seen: 0.4 % in both, and 0.2 % in restitution with half the implicit step.
    const [bounce] = explicit.byOrientation;
    expect(bounce.outcome).toBe('rebound');
    expect(Math.abs(restitution / bounce.restitution! - 1)).toBeLessThan(0.02);
    expect(Math.abs((1e3 * implicit.contactTimeS) / bounce.contactTimeMs - 1)).toBeLessThan(0.02);
  });
});
