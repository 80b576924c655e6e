import { placeImage } from '../frame/index.ts';
import type { CompiledLattice } from './compiled-lattice.ts';
import { averageOver, determinant } from './group.ts';
import type { Model } from './model.ts';
import { NODE_NUMBERS } from './nodes.ts';
import { type OrbitPart, orbitPart } from './orbit-part.ts';
import type { SelfMap } from './stabiliser.ts';
import { STRUT_NUMBERS } from './strut-shape.ts';

/** The part of a symmetric lattice that is computed. */
export interface Wedge {
  /** One node and one strut of each orbit, with the share of mass and stiffness that makes all energies 1 / (order of the group) of the whole's. */
  readonly model: Model;
  /** Share of its full stiffness that each strut of the model has. */
  readonly strutShare: Float64Array;
  readonly ghosts: OrbitPart['ghosts'];
  readonly fixed: OrbitPart['fixed'];
}

/**
 * A symmetric motion is that of one node per orbit: the others are its images. The Lagrangian of the whole is the sum over one strut
 * and one node of each orbit times the orbit's size, so it is computed with stiffness and mass divided by how many maps leave strut or node in place.
 */
export function wedgeOf(model: Model, maps: readonly SelfMap[]): Wedge {
  const placeOf = new Int32Array(model.nodes.count);
  model.nodeOf.forEach((node, place) => (placeOf[node] = place));
  const strutPlace = new Int32Array(model.struts.count);
  model.strutOf.forEach((strut, place) => (strutPlace[strut] = place));
  // The maps on the places of the model.
  const images = maps.map((map) => ({
    nodes: Int32Array.from(model.nodeOf, (node) => placeOf[map.nodes[node]]),
    struts: Int32Array.from(model.strutOf, (strut) => strutPlace[map.struts[strut]]),
  }));
  const { count: strutCount, ends: wholeEnds } = model.struts;
  const part = orbitPart({ nodeCount: model.nodes.count, strutCount, ends: wholeEnds }, images);
  const { nodes, struts, ends, ghosts, nodeShare, strutShare } = part;
  const { mass, inertia, radius } = model.nodes;
  return {
    model: {
      nodes: {
        count: nodes.length,
        mass: nodeShare.map((share, k) => share * mass[nodes[k]]),
        inertia: nodeShare.map((share, k) => share * inertia[nodes[k]]),
        radius: Float64Array.from(nodes, (place) => radius[place]),
      },
      struts: { count: struts.length, nodeCount: nodes.length + ghosts.length, ends, numbers: numbersOf(model, struts, strutShare) },
      reference: Float64Array.from({ length: 3 * nodes.length }, (_, k) => model.reference[3 * nodes[Math.floor(k / 3)] + (k % 3)]),
      nodeOf: nodes.map((place) => model.nodeOf[place]),
      strutOf: struts.map((s) => model.strutOf[s]),
      massT: model.massT / maps.length,
    },
    strutShare,
    ghosts,
    fixed: part.fixed,
  };
}

function numbersOf({ struts: { numbers } }: Model, struts: Int32Array, share: Float64Array): Float64Array {
  const chosen = new Float64Array(STRUT_NUMBERS * struts.length);
  struts.forEach((s, k) => {
    const own = numbers.subarray(STRUT_NUMBERS * s, STRUT_NUMBERS * (s + 1));
    chosen.set(
      own.map((each, at) => (at < 8 ? each : share[k] * each)),
      STRUT_NUMBERS * k,
    );
  });
  return chosen;
}

/** The compiled wedge, made to keep its ghosts where the images are and to give their loads back. `group`: the maps' matrices in space, 9 each. */
export function folded(
  lattice: CompiledLattice,
  { ghosts, fixed, model }: Wedge,
  maps: readonly SelfMap[],
  group: Float64Array,
): CompiledLattice {
  const { motion } = lattice;
  const inSpace = maps.map((_, map) => group.subarray(9 * map, 9 * map + 9));
  const place = () => {
    ghosts.forEach(({ of, map }, k) => placeImage(motion, of, maps[map].matrix, inSpace[map], motion, model.nodes.count + k));
  };
  // Loads of nodes that maps leave in place: only what all of those leave of them moves the node.
  const standing = fixed.map(({ node, maps }) => ({
    force: motion.loads.subarray(NODE_NUMBERS * node, NODE_NUMBERS * node + 3),
    moment: motion.loads.subarray(NODE_NUMBERS * node + 3, NODE_NUMBERS * node + 6),
    kept: Float64Array.from(maps.flatMap((map) => [...inSpace[map]])),
  }));
  return {
    ...lattice,
    settle: () => {
      lattice.settle();
      place();
    },
    load: () => {
      lattice.load();
      ghosts.forEach(({ of, map }, k) => giveBack(motion.loads, model.nodes.count + k, group, 9 * map, of));
      for (const { force, moment, kept } of standing) {
        averageOver(kept, force, 'polar');
        averageOver(kept, moment, 'axial');
      }
    },
    drift: () => {
      lattice.drift();
      place();
    },
  };
}

/** Adds Q^T force and det(Q) Q^T moment of a ghost to its node: a moment is no arrow, a mirror turns it about. */
function giveBack(loads: Float64Array, from: number, group: Float64Array, g: number, to: number): void {
  const turn = determinant(group, g);
  for (let part = 0; part < 2; part++) {
    const [f, t] = [NODE_NUMBERS * from + 3 * part, NODE_NUMBERS * to + 3 * part];
    const sign = part === 0 ? 1 : turn;
    for (let j = 0; j < 3; j++)
      loads[t + j] += sign * (group[g + j] * loads[f] + group[g + 3 + j] * loads[f + 1] + group[g + 6 + j] * loads[f + 2]);
  }
}
