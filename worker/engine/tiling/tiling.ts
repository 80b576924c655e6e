/** A tiling of the unit sphere in flat arrays: every node joins three edges, every cell is a ring of nodes. */
export interface Tiling {
  readonly T: number;
  readonly nodeCount: number;
  readonly edgeCount: number;
  readonly cellCount: number;
  /** Nodes on the unit sphere, 3 * nodeCount. */
  readonly xyz: Float64Array;
  /** End nodes of each edge, 2 * edgeCount. */
  readonly edges: Int32Array;
  /** Ring of cell c: cellNodes[cellPtr[c] .. cellPtr[c + 1]), counter-clockwise seen from outside; cellEdges[k] joins ring node k to the next. */
  readonly cellPtr: Int32Array;
  readonly cellNodes: Int32Array;
  readonly cellEdges: Int32Array;
  /** The three cells around each node, counter-clockwise seen from outside, 3 * nodeCount. */
  readonly nodeCells: Int32Array;
  /** Unit directions of the cells' seeds, 3 * cellCount; the first 12 cells are the pentagons. */
  readonly cellDirection: Float64Array;
  readonly symmetry: TilingSymmetry;
  /** Largest |q / mean(q) - 1| left by the relaxation of edges or areas q, 0 when none was asked for. */
  readonly relaxationResidual: number;
}

/** Rotations that map the tiling onto itself, and what they do to one representative of each orbit. */
export interface TilingSymmetry {
  /** 60 rotation matrices, row-major, 9 each; the first is the identity. */
  readonly rotations: Float64Array;
  /** Representative node of each node's orbit, and the rotation that carries the representative to the node. */
  readonly nodeOrbit: Int32Array;
  readonly nodeRotation: Int32Array;
  /** Representative edge of each edge's orbit. */
  readonly edgeOrbit: Int32Array;
  /** As for the nodes, of the cells. */
  readonly cellOrbit: Int32Array;
  readonly cellRotation: Int32Array;
}
