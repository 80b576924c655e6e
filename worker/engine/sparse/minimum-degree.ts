import { compressedGraph } from './adjacency.ts';
import type { SparseMatrix } from './matrix.ts';

const GONE = -1;

/** What elimination has left: variables with their neighbours, and elements (eliminated vertices) with the variables they join. */
interface QuotientGraph {
  readonly weight: Int32Array;
  readonly variables: number[][];
  readonly elements: number[][];
  /** Variables of each element; empty for what is not an element, or was absorbed. */
  readonly members: number[][];
  readonly degree: Float64Array;
  readonly alive: Uint8Array;
}

/**
 * A fill-reducing order: `permutation[k]` is the unknown eliminated k-th. Approximate minimum degree on the quotient graph (Amestoy, Davis, Duff
 * 1996), after unknowns with the same neighbours are joined; ties go to the vertex that came first. `poll` is called at every step, and may throw.
 */
export function order(matrix: SparseMatrix, poll: () => void = () => {}): Int32Array {
  const { vertexCount, vertexOf, weight, neighbours } = compressedGraph(matrix);
  const rank = new Int32Array(vertexCount);
  for (const [k, v] of eliminate(weight, neighbours, poll).entries()) rank[v] = k;
  const start = new Int32Array(vertexCount + 1);
  for (const v of vertexOf) start[rank[v] + 1]++;
  for (let k = 0; k < vertexCount; k++) start[k + 1] += start[k];
  const permutation = new Int32Array(matrix.n);
  for (let j = 0; j < matrix.n; j++) permutation[start[rank[vertexOf[j]]]++] = j;
  return permutation;
}

function eliminate(weight: Int32Array, neighbours: number[][], poll: () => void): number[] {
  const n = weight.length;
  const degree = new Float64Array(n);
  for (let v = 0; v < n; v++) for (const u of neighbours[v]) degree[v] += weight[u];
  const graph: QuotientGraph = {
    weight,
    variables: neighbours.map((list) => [...list]),
    elements: neighbours.map(() => []),
    members: neighbours.map(() => []),
    degree,
    alive: new Uint8Array(n).fill(1),
  };
  const queue = new DegreeQueue(degree);
  const mark = new Int32Array(n).fill(GONE);
  const outside = new Float64Array(n);
  const sequence: number[] = [];
  let left = weight.reduce((sum, each) => sum + each, 0);
  while (sequence.length < n) {
    poll();
    const pivot = queue.take();
    sequence.push(pivot);
    left -= weight[pivot];
    const joined = form(graph, pivot, mark);
    update(graph, pivot, joined, left, mark, outside);
    for (const v of joined) queue.move(v);
  }
  return sequence;
}

/** Turns the pivot into an element of all it was joined to, and absorbs the elements it was in. `mark` holds the pivot at its members after. */
function form({ variables, elements, members, alive }: QuotientGraph, pivot: number, mark: Int32Array): number[] {
  alive[pivot] = 0;
  mark[pivot] = pivot;
  const joined: number[] = [];
  const add = (v: number) => {
    if (!alive[v] || mark[v] === pivot) return;
    mark[v] = pivot;
    joined.push(v);
  };
  for (const v of variables[pivot]) add(v);
  for (const e of elements[pivot]) {
    for (const v of members[e]) add(v);
    members[e] = [];
  }
  members[pivot] = joined;
  variables[pivot] = [];
  elements[pivot] = [];
  return joined;
}

/** New neighbours and approximate degrees of the members of element `pivot`. */
function update(graph: QuotientGraph, pivot: number, joined: number[], left: number, mark: Int32Array, outside: Float64Array): void {
  const { weight, variables, elements, members, degree } = graph;
  let whole = 0;
  for (const v of joined) whole += weight[v];
  // outside[e]: weight of element e beyond the pivot's members, found by taking away, once for each member it has in common.
  const touched: number[] = [];
  for (const v of joined) {
    elements[v] = elements[v].filter((e) => members[e].length > 0);
    for (const e of elements[v]) {
      if (mark[e] !== pivot) {
        mark[e] = pivot;
        outside[e] = 0;
        for (const u of members[e]) if (graph.alive[u]) outside[e] += weight[u];
        touched.push(e);
      }
      outside[e] -= weight[v];
    }
  }
  // An element with nothing outside says no more than the new one: aggressive absorption.
  for (const e of touched) if (outside[e] <= 0) members[e] = [];
  for (const v of joined) {
    variables[v] = variables[v].filter((u) => graph.alive[u] && mark[u] !== pivot);
    elements[v] = elements[v].filter((e) => members[e].length > 0);
    let exact = whole - weight[v];
    for (const u of variables[v]) exact += weight[u];
    for (const e of elements[v]) exact += outside[e];
    degree[v] = Math.min(left - weight[v], degree[v] + whole - weight[v], exact);
    elements[v].push(pivot);
  }
}

/** Vertices by degree: a bucket each, with a lower bound that moves up as buckets empty. */
class DegreeQueue {
  readonly #degree: Float64Array;
  readonly #bucket: Set<number>[] = [];
  readonly #at: Int32Array;
  #lowest = 0;

  constructor(degree: Float64Array) {
    this.#degree = degree;
    this.#at = new Int32Array(degree.length);
    for (let v = 0; v < degree.length; v++) this.#put(v);
  }

  take(): number {
    while (!this.#bucket[this.#lowest]?.size) this.#lowest++;
    const [v] = this.#bucket[this.#lowest];
    this.#bucket[this.#lowest].delete(v);
    return v;
  }

  move(v: number): void {
    if (this.#at[v] === this.#degree[v]) return;
    this.#bucket[this.#at[v]].delete(v);
    this.#put(v);
  }

  #put(v: number): void {
    const degree = this.#degree[v];
    this.#bucket[degree] ??= new Set();
    this.#bucket[degree].add(v);
    this.#at[v] = degree;
    this.#lowest = Math.min(this.#lowest, degree);
  }
}
