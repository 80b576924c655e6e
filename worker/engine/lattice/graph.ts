/**
 * The one data type everything downstream of the lattice takes. Millimetres; strut k runs from node `ends[2k]` to `ends[2k+1]`.
 * The solid it stands for is the union of a right circular frustum per strut and, at each node, a sphere of the largest incident diameter.
 */
export interface StrutGraph {
  readonly nodeCount: number;
  readonly strutCount: number;
  /** Node positions, 3 * nodeCount, mm. */
  readonly xyz: Float64Array;
  /** Node indices of the two ends of each strut, 2 * strutCount. */
  readonly ends: Int32Array;
  /** Diameter at each end, 2 * strutCount, mm. */
  readonly diameters: Float64Array;
  /** Index into roleNames for each strut, strutCount. */
  readonly roles: Int32Array;
  readonly roleNames: readonly string[];
  /** Radius of each node's sphere, nodeCount, mm: half the largest incident diameter. */
  readonly nodeRadius: Float64Array;
}

/** One symmetry group acting on a graph: used to compute once what repeats. */
export interface GraphSymmetry {
  /** Rotation matrices of the group, row-major, 9 each; the first is the identity. */
  readonly rotations: Float64Array;
  /** Representative strut of the orbit each strut belongs to, strutCount. */
  readonly strutOrbit: Int32Array;
  /** Representative node of the orbit each node belongs to, nodeCount. */
  readonly nodeOrbit: Int32Array;
}

export interface Lattice {
  readonly graph: StrutGraph;
  /** null when nothing but the identity maps the graph onto itself. */
  readonly symmetry: GraphSymmetry | null;
  readonly layerCount: number;
  /** Node radius of each layer, mm. */
  readonly nodeRadiusMm: readonly number[];
  /** Nodes of one layer; node v of layer k is k * nodesPerLayer + v. Nodes at mid-span and where braces cross follow all layers. */
  readonly nodesPerLayer: number;
  readonly strutsPerLayer: number;
  readonly linked: boolean;
  /** Diagonals cross in the windows between neighbouring posts. */
  readonly braced: boolean;
  /**
   * Spans: members from one node of the layers to another. Edge e of layer k is span k * strutsPerLayer + e, the post at node v between layers k and
   * k + 1 is layerCount * strutsPerLayer + k * nodesPerLayer + v. Struts 0 .. spanCount - 1 are the spans, or their first halves where they are
   * tapered; second halves follow, then braces. spanOf[strut]: the span of a strut that is part of one.
   */
  readonly spanCount: number;
  readonly spanOf: readonly number[];
  /** Largest diameter along each span, mm. */
  readonly spanDiameterMm: Float64Array;
  /** Nodes of the tiling at the ends of each of its edges, 2 * strutsPerLayer. */
  readonly edges: Int32Array;
  /** Cells of one layer (the same in every layer) as rings of nodes, counter-clockwise seen from outside: cell c is cellNodes[cellPtr[c] .. cellPtr[c+1]). */
  readonly cellCount: number;
  readonly cellPtr: Int32Array;
  readonly cellNodes: Int32Array;
  /** Edge of the tiling between consecutive ring nodes, beside cellNodes. */
  readonly cellStruts: Int32Array;
}
