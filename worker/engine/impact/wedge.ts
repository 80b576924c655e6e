import type { CompiledLattice } from './compiled-lattice.ts';
import { averageOver, determinant } from './group.ts';
import type { Model } from './model.ts';
import { type Motion, NODE_NUMBERS } from './nodes.ts';
import type { SelfMap } from './stabiliser.ts';
import { STRUT_NUMBERS } from './strut-shape.ts';

/** The part of a symmetric lattice that is computed. */
export interface Wedge {
  /** One node and one strut of each orbit, with the share of mass and stiffness that makes all energies 1 / (order of the group) of the whole's. */
  readonly model: Model;
  /** Share of its full stiffness that each strut of the model has. */
  readonly strutShare: Float64Array;
  /** Place in the whole model of each node that is computed. */
  readonly nodes: Int32Array;
  /** Ghosts: nodes at the far ends of those struts that are images of computed ones. Beyond the computed nodes, in this order. */
  readonly ghosts: readonly { readonly of: number; readonly map: number }[];
  /** Computed nodes that some maps leave in place. */
  readonly fixed: readonly { readonly node: number; readonly maps: readonly number[] }[];
}

/**
 * A symmetric motion is that of one node per orbit: the others are its images. The Lagrangian of the whole is the sum over one strut
 * and one node of each orbit times the orbit's size, so it is computed with stiffness and mass divided by how many maps leave strut or node in place.
 */
export function wedgeOf(model: Model, maps: readonly SelfMap[]): Wedge {
  const placeOf = new Int32Array(model.nodes.count);
  model.nodeOf.forEach((node, place) => (placeOf[node] = place));
  // Images of the places of the model, and of its struts.
  const nodeImages = maps.map(({ nodes }) => Int32Array.from(model.nodeOf, (node) => placeOf[nodes[node]]));
  const strutPlace = new Int32Array(model.struts.count);
  model.strutOf.forEach((strut, place) => (strutPlace[strut] = place));
  const strutImages = maps.map(({ struts }) => Int32Array.from(model.strutOf, (strut) => strutPlace[struts[strut]]));
  const isFirst = (images: readonly Int32Array[]) => (k: number) => images.every((image) => image[k] >= k);
  const nodes = Int32Array.from(model.nodes.mass.keys()).filter(isFirst(nodeImages));
  const struts = Int32Array.from({ length: model.struts.count }, (_, s) => s).filter(isFirst(strutImages));
  const stays = (images: readonly Int32Array[], k: number) => images.flatMap((image, g) => (image[k] === k ? [g] : []));

  // From here on nodes are numbered anew: the computed ones, then the ghosts.
  const numberOf = new Int32Array(model.nodes.count).fill(-1);
  nodes.forEach((place, k) => (numberOf[place] = k));
  const imageOf = new Int32Array(2 * model.nodes.count);
  nodeImages.forEach((image, g) => nodes.forEach((place, k) => imageOf.set([k, g], 2 * image[place])));
  const ghosts: { of: number; map: number }[] = [];
  const numbered = (place: number) => {
    if (numberOf[place] < 0) {
      numberOf[place] = nodes.length + ghosts.length;
      ghosts.push({ of: imageOf[2 * place], map: imageOf[2 * place + 1] });
    }
    return numberOf[place];
  };
  const ends = Int32Array.from({ length: 2 * struts.length }, (_, k) => numbered(model.struts.ends[2 * struts[k >> 1] + (k & 1)]));
  const nodeShare = Float64Array.from(nodes, (place) => 1 / stays(nodeImages, place).length);
  const strutShare = Float64Array.from(struts, (s) => 1 / stays(strutImages, s).length);
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
    nodes,
    ghosts,
    fixed: Array.from(nodes, (place, node) => ({ node, maps: stays(nodeImages, place) })).filter((each) => each.maps.length > 1),
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
  const place = () => {
    ghosts.forEach(({ of, map }, k) => image(motion, of, maps[map].matrix, group, 9 * map, model.nodes.count + k));
  };
  // Loads of nodes that maps leave in place: only what all of those leave of them moves the node.
  const standing = fixed.map(({ node, maps }) => ({
    force: motion.loads.subarray(NODE_NUMBERS * node, NODE_NUMBERS * node + 3),
    moment: motion.loads.subarray(NODE_NUMBERS * node + 3, NODE_NUMBERS * node + 6),
    kept: Float64Array.from(maps.flatMap((map) => [...group.subarray(9 * map, 9 * map + 9)])),
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

/** Place and rotation of a ghost: Q x, Q R Q0^T with the map Q0 in the design and Q in space. */
function image({ positions, rotations }: Motion, of: number, Q0: Float64Array, group: Float64Array, g: number, to: number): void {
  for (let i = 0; i < 3; i++) {
    const [a, b, c] = [group[g + 3 * i], group[g + 3 * i + 1], group[g + 3 * i + 2]];
    positions[3 * to + i] = a * positions[3 * of] + b * positions[3 * of + 1] + c * positions[3 * of + 2];
    for (let j = 0; j < 3; j++)
      scratch[3 * i + j] = a * rotations[9 * of + j] + b * rotations[9 * of + 3 + j] + c * rotations[9 * of + 6 + j];
  }
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) {
      rotations[9 * to + 3 * i + j] = scratch[3 * i] * Q0[3 * j] + scratch[3 * i + 1] * Q0[3 * j + 1] + scratch[3 * i + 2] * Q0[3 * j + 2];
    }
  }
}
const scratch = new Float64Array(9);

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
