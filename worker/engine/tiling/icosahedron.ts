/** Golden ratio. */
const PHI = (1 + Math.sqrt(5)) / 2;

/** A rotation of the icosahedron: its matrix (row-major, 9 numbers) and where it sends each of the 12 vertices. */
export interface IcosahedralRotation {
  readonly matrix: Float64Array;
  readonly vertexImage: Int32Array;
}

export interface Icosahedron {
  /** Unit vertices, 12 * 3, two-fold axes along x, y and z. */
  readonly vertices: Float64Array;
  /** 20 faces * 3 vertices, counter-clockwise seen from outside. */
  readonly faces: Int32Array;
  /** The 60 proper rotations; the first is the identity. */
  readonly rotations: readonly IcosahedralRotation[];
}

const dot = (a: ArrayLike<number>, i: number, b: ArrayLike<number>, j: number): number =>
  a[i] * b[j] + a[i + 1] * b[j + 1] + a[i + 2] * b[j + 2];

/** Vertices (0, +-1, +-phi) and their cyclic shifts, on the unit sphere (textbook coordinates). */
function makeVertices(): Float64Array {
  const scale = 1 / Math.hypot(1, PHI);
  const vertices: number[] = [];
  for (let axis = 0; axis < 3; axis++) {
    for (const [one, phi] of [
      [1, 1],
      [1, -1],
      [-1, 1],
      [-1, -1],
    ]) {
      const v = [0, 0, 0];
      v[(axis + 1) % 3] = one * scale;
      v[(axis + 2) % 3] = phi * PHI * scale;
      vertices.push(...v);
    }
  }
  return Float64Array.from(vertices);
}

/** Every triple of mutual neighbours, turned counter-clockwise. */
function makeFaces(vertices: Float64Array): Int32Array {
  const adjacent = (a: number, b: number) => dot(vertices, 3 * a, vertices, 3 * b) > 0.4; // cos 63.4 degrees = 0.447
  const faces: number[] = [];
  for (let a = 0; a < 12; a++) {
    for (let b = a + 1; b < 12; b++) {
      for (let c = b + 1; c < 12; c++) {
        if (!(adjacent(a, b) && adjacent(b, c) && adjacent(a, c))) continue;
        faces.push(...(orientation(vertices, a, b, c) > 0 ? [a, b, c] : [a, c, b]));
      }
    }
  }
  return Int32Array.from(faces);
}

/** Determinant of three vertices: positive when a, b, c run counter-clockwise seen from outside. */
function orientation(v: Float64Array, a: number, b: number, c: number): number {
  const [x, y, z] = [3 * a, 3 * b, 3 * c];
  return (
    v[x] * (v[y + 1] * v[z + 2] - v[y + 2] * v[z + 1]) -
    v[x + 1] * (v[y] * v[z + 2] - v[y + 2] * v[z]) +
    v[x + 2] * (v[y] * v[z + 1] - v[y + 1] * v[z])
  );
}

/** Right-handed frame of a directed edge: the first vertex, the edge's direction at right angles to it, their cross product (rows). */
function edgeFrame(vertices: Float64Array, a: number, b: number): number[] {
  const p = [...vertices.subarray(3 * a, 3 * a + 3)];
  const cosine = dot(vertices, 3 * a, vertices, 3 * b);
  const q = [0, 1, 2].map((k) => vertices[3 * b + k] - cosine * p[k]);
  const length = Math.hypot(...q);
  const u = q.map((x) => x / length);
  return [...p, ...u, p[1] * u[2] - p[2] * u[1], p[2] * u[0] - p[0] * u[2], p[0] * u[1] - p[1] * u[0]];
}

/** One rotation per directed edge: the one that carries the directed edge 0 -> its first neighbour there. */
function makeRotations(vertices: Float64Array, faces: Int32Array): IcosahedralRotation[] {
  const first = edgeFrame(vertices, faces[0], faces[1]);
  const rotations: IcosahedralRotation[] = [];
  for (let f = 0; f < 20; f++) {
    for (let k = 0; k < 3; k++) {
      // Each directed edge belongs to exactly one face, so this meets every one of the 60 once.
      const frame = edgeFrame(vertices, faces[3 * f + k], faces[3 * f + ((k + 1) % 3)]);
      const matrix = new Float64Array(9);
      for (let i = 0; i < 3; i++) {
        for (let j = 0; j < 3; j++) matrix[3 * i + j] = frame[i] * first[j] + frame[3 + i] * first[3 + j] + frame[6 + i] * first[6 + j];
      }
      rotations.push({ matrix, vertexImage: imageOf(vertices, matrix) });
    }
  }
  return rotations;
}

function imageOf(vertices: Float64Array, m: Float64Array): Int32Array {
  return Int32Array.from({ length: 12 }, (_, v) => {
    const turned = [0, 3, 6].map((r) => dot(m, r, vertices, 3 * v));
    let image = 0;
    for (let w = 1; w < 12; w++) if (dot(turned, 0, vertices, 3 * w) > dot(turned, 0, vertices, 3 * image)) image = w;
    return image;
  });
}

/** The regular icosahedron with its rotation group (order 60). */
export function icosahedron(): Icosahedron {
  const vertices = makeVertices();
  const faces = makeFaces(vertices);
  return { vertices, faces, rotations: makeRotations(vertices, faces) };
}
