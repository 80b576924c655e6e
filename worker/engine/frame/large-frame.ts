import { type Fold, tieGradient, tieTangent } from './fold.ts';
import { type Placement, type StrutsAtRest, strutGradient } from './large-strut.ts';
import { strutTangent } from './large-strut-tangent.ts';

/** Unknowns of a node: a shift (3) and a spin (3). Unknown 6 v + k belongs to node v. */
const UNKNOWNS = 6;

const gradientOfStrut = new Float64Array(12);
const tangentOfStrut = new Float64Array(144);

/**
 * Elastic energy of all struts, N mm, and its gradient by shifts and spins of the nodes into `gradient` (6 per node; overwritten). With a fold: of the
 * computed part, by the unknowns of its nodes.
 */
export function frameGradient(frame: StrutsAtRest, placement: Placement, gradient: Float64Array, fold: Fold | null = null): number {
  const { ends } = frame.graph;
  gradient.fill(0);
  let energy = 0;
  for (let s = 0; s < ends.length / 2; s++) {
    energy += strutGradient(frame, s, placement, gradientOfStrut);
    addGradient(ends[2 * s], 0, gradient, fold);
    addGradient(ends[2 * s + 1], UNKNOWNS, gradient, fold);
  }
  return energy;
}

/** Adds one end's part of the strut's gradient. */
function addGradient(place: number, from: number, gradient: Float64Array, fold: Fold | null): void {
  const tie = fold?.ties[place];
  if (tie) tieGradient(tie, gradientOfStrut, from);
  const at = UNKNOWNS * (fold ? fold.of[place] : place);
  for (let k = 0; k < UNKNOWNS; k++) gradient[at + k] += gradientOfStrut[from + k];
}

/** A tangent with its pattern: lower triangle by columns, rows ascending; each column starts with its diagonal entry. */
export interface FrameTangent {
  readonly n: number;
  readonly colPtr: Int32Array;
  readonly rowIdx: Int32Array;
  readonly values: Float64Array;
  /** Where in a column of a strut's lower node, after that node's own block, the block of its other node starts; 1 per strut; -1: both are one node. */
  readonly coupling: Int32Array;
}

/** The pattern of a graph's tangent, values 0. Struts between the same two nodes share a block. */
export function tangentOf({ nodeCount, ends }: { readonly nodeCount: number; readonly ends: Int32Array }): FrameTangent {
  const neighbours = Array.from({ length: nodeCount }, () => new Set<number>());
  for (let k = 0; k < ends.length; k += 2)
    if (ends[k] !== ends[k + 1]) neighbours[Math.min(ends[k], ends[k + 1])].add(Math.max(ends[k], ends[k + 1]));
  const sorted = neighbours.map((each) => [...each].sort((a, b) => a - b));
  const n = UNKNOWNS * nodeCount;
  const colPtr = new Int32Array(n + 1);
  for (let c = 0; c < n; c++) colPtr[c + 1] = colPtr[c] + UNKNOWNS - (c % UNKNOWNS) + UNKNOWNS * sorted[Math.floor(c / UNKNOWNS)].length;
  const rowIdx = new Int32Array(colPtr[n]);
  for (let c = 0, at = 0; c < n; c++) {
    const v = Math.floor(c / UNKNOWNS);
    for (let row = c; row < UNKNOWNS * (v + 1); row++) rowIdx[at++] = row;
    for (const other of sorted[v]) for (let k = 0; k < UNKNOWNS; k++) rowIdx[at++] = UNKNOWNS * other + k;
  }
  const coupling = Int32Array.from({ length: ends.length / 2 }, (_, s) => {
    const [a, b] = [Math.min(ends[2 * s], ends[2 * s + 1]), Math.max(ends[2 * s], ends[2 * s + 1])];
    return a === b ? -1 : UNKNOWNS * sorted[a].indexOf(b);
  });
  return { n, colPtr, rowIdx, values: new Float64Array(rowIdx.length), coupling };
}

/**
 * As `frameGradient`, and the energy's second derivatives in rotation vectors into the tangent's values (overwritten). Newton's steps with it converge
 * quadratically: it is the Hessian of the energy in the very parameters by which `move` updates rotations. Unknowns that a fold does not leave free have a
 * stiffness of their own.
 */
export function frameTangent(
  frame: StrutsAtRest,
  placement: Placement,
  gradient: Float64Array,
  tangent: FrameTangent,
  fold: Fold | null = null,
): number {
  const { ends } = frame.graph;
  gradient.fill(0);
  tangent.values.fill(0);
  let energy = 0;
  for (let s = 0; s < ends.length / 2; s++) {
    energy += strutTangent(frame, s, placement, gradientOfStrut, tangentOfStrut);
    const [a, b] = [ends[2 * s], ends[2 * s + 1]];
    addGradient(a, 0, gradient, fold);
    addGradient(b, UNKNOWNS, gradient, fold);
    if (fold) addFolded(tangent, s, a, b, fold);
    else addBlocks(tangent, s, a, b);
  }
  for (const { node } of fold?.standing ?? []) standFast(tangent, node, fold?.ties[node] as Float64Array, frame.natural[0]);
  return energy;
}

/** As `addBlocks`, in the unknowns of the computed nodes. */
function addFolded(tangent: FrameTangent, s: number, a: number, b: number, { of, ties }: Fold): void {
  const [tieA, tieB] = [ties[a], ties[b]];
  if (tieA) tieTangent(tieA, tangentOfStrut, 0);
  if (tieB) tieTangent(tieB, tangentOfStrut, 1);
  if (of[a] !== of[b]) {
    addBlocks(tangent, s, of[a], of[b]);
    return;
  }
  // A strut from a node to its own image: all four blocks are that node's.
  const { colPtr, values } = tangent;
  for (let c = 0; c < UNKNOWNS; c++) {
    const first = colPtr[UNKNOWNS * of[a] + c];
    for (let r = c; r < UNKNOWNS; r++) {
      const [own, other] = [12 * r, 12 * (UNKNOWNS + r)];
      values[first + r - c] +=
        tangentOfStrut[own + c] + tangentOfStrut[own + UNKNOWNS + c] + tangentOfStrut[other + c] + tangentOfStrut[other + UNKNOWNS + c];
    }
  }
}

/** Adds stiffness (1 - free) to a node's block: what is not free stays where it is, as nothing pushes it. */
function standFast({ colPtr, values }: FrameTangent, node: number, free: Float64Array, stiffness: number): void {
  for (let c = 0; c < UNKNOWNS; c++)
    for (let r = c; r < UNKNOWNS; r++)
      values[colPtr[UNKNOWNS * node + c] + r - c] += stiffness * ((r === c ? 1 : 0) - free[UNKNOWNS * r + c]);
}

function addBlocks({ colPtr, values, coupling }: FrameTangent, s: number, a: number, b: number): void {
  const [low, lowAt, highAt] = a < b ? [a, 0, UNKNOWNS] : [b, UNKNOWNS, 0];
  for (let c = 0; c < UNKNOWNS; c++) {
    const [first, second] = [colPtr[UNKNOWNS * a + c], colPtr[UNKNOWNS * b + c]];
    for (let r = c; r < UNKNOWNS; r++) {
      values[first + r - c] += tangentOfStrut[12 * r + c];
      values[second + r - c] += tangentOfStrut[12 * (UNKNOWNS + r) + UNKNOWNS + c];
    }
    const between = colPtr[UNKNOWNS * low + c] + UNKNOWNS - c + coupling[s];
    for (let r = 0; r < UNKNOWNS; r++) values[between + r] += tangentOfStrut[12 * (highAt + r) + lowAt + c];
  }
}

/** Moves the nodes that have moves by `step` times its shift and turns it by exp(step times its spin) from the left, from one placement into another. */
export function move(from: Placement, moves: Float64Array, step: number, into: Placement): void {
  const { positions: x, rotations: R } = from;
  for (let v = 0; v < moves.length / UNKNOWNS; v++) {
    for (let i = 0; i < 3; i++) into.positions[3 * v + i] = x[3 * v + i] + step * moves[UNKNOWNS * v + i];
    turn(R, 9 * v, step * moves[UNKNOWNS * v + 3], step * moves[UNKNOWNS * v + 4], step * moves[UNKNOWNS * v + 5], into.rotations);
  }
}

/** into = exp(w) R by Rodrigues, column by column: x + sin(a)/a w x x + (1 - cos(a))/a^2 w x (w x x). */
function turn(R: Float64Array, at: number, wx: number, wy: number, wz: number, into: Float64Array): void {
  const square = wx * wx + wy * wy + wz * wz;
  const angle = Math.sqrt(square);
  const first = angle > 1e-4 ? Math.sin(angle) / angle : 1 - square / 6;
  const second = angle > 1e-4 ? (2 * Math.sin(angle / 2) ** 2) / square : 0.5 - square / 24;
  for (let c = 0; c < 3; c++) {
    const [x, y, z] = [R[at + c], R[at + 3 + c], R[at + 6 + c]];
    const [a, b, d] = [wy * z - wz * y, wz * x - wx * z, wx * y - wy * x];
    into[at + c] = x + first * a + second * (wy * d - wz * b);
    into[at + 3 + c] = y + first * b + second * (wz * a - wx * d);
    into[at + 6 + c] = z + first * d + second * (wx * b - wy * a);
  }
}
