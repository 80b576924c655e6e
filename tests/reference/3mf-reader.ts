import { DOMParser, Document, Element } from '@xmldom/xmldom';
import { ThreeMFLoader } from 'three/examples/jsm/loaders/3MFLoader.js';

type Place = [number, number, number];

/** One copy of a part as the loader draws it, in its place in the build. */
export interface Drawn {
  readonly name: string;
  readonly struts: readonly { readonly from: Place; readonly to: Place; readonly radiusFrom: number; readonly radiusTo: number }[];
  readonly spheres: readonly { readonly centre: Place; readonly radius: number }[];
}

/** The loader draws a strut as two rings of 8 corners, each closed by its first again, and a sphere as 7 rings of as many from pole to pole. */
const CORNERS = 8;
const RING = CORNERS + 1;
const STRUT = 2 * RING;
const SPHERE = 7 * RING;

/**
 * Reads a 3MF file with the loader of three.js. It keeps nothing but meshes: all struts of a part, then one sphere for each vertex. Places and radii
 * are got back from their corners, which are in single precision.
 */
export function drawnBy3MFLoader(bytes: Uint8Array): Drawn[] {
  const scene = asInABrowser(() => new ThreeMFLoader().parse(Uint8Array.from(bytes).buffer));
  scene.updateMatrixWorld(true);
  const drawn: Drawn[] = [];
  scene.traverse(({ isMesh, name, geometry, matrixWorld }) => {
    if (isMesh) drawn.push(measure(name, pointsOf(geometry.attributes.position.array, matrixWorld.elements)));
  });
  return drawn;
}

/** The triangles of a 3MF file of one object without beams, in its place in the build. */
export function drawnTriangles(bytes: Uint8Array): { xyz: Float64Array; triangles: Uint32Array } {
  const scene = asInABrowser(() => new ThreeMFLoader().parse(Uint8Array.from(bytes).buffer));
  scene.updateMatrixWorld(true);
  const found: { xyz: Float64Array; triangles: Uint32Array }[] = [];
  scene.traverse(({ isMesh, geometry, matrixWorld }) => {
    if (!isMesh) return;
    const xyz = Float64Array.from(pointsOf(geometry.attributes.position.array, matrixWorld.elements).flat());
    found.push({ xyz, triangles: Uint32Array.from(geometry.index?.array ?? Array.from({ length: xyz.length / 3 }, (_, k) => k)) });
  });
  if (found.length !== 1) throw new Error(`${found.length} objects are drawn`);
  return found[0];
}

/** Every point moved by a matrix that is stored column by column. */
function pointsOf(xyz: Float32Array, matrix: readonly number[]): Place[] {
  return Array.from({ length: xyz.length / 3 }, (_, k) => {
    const [x, y, z] = xyz.subarray(3 * k, 3 * k + 3);
    return [0, 1, 2].map((i) => matrix[i] * x + matrix[4 + i] * y + matrix[8 + i] * z + matrix[12 + i]) as Place;
  });
}

function measure(name: string, points: readonly Place[]): Drawn {
  const struts: Drawn['struts'][number][] = [];
  const spheres: Drawn['spheres'][number][] = [];
  for (let at = 0; at < points.length; ) {
    // the first ring of a sphere is its pole, over and over
    if (distance(points[at], points[at + 1]) > 0) {
      const [to, from] = [points.slice(at, at + CORNERS), points.slice(at + RING, at + RING + CORNERS)];
      struts.push({ from: middle(from), to: middle(to), radiusFrom: radiusOf(from), radiusTo: radiusOf(to) });
      at += STRUT;
    } else {
      const poles = [points[at], points[at + SPHERE - 1]];
      spheres.push({ centre: middle(poles), radius: radiusOf(poles) });
      at += SPHERE;
    }
  }
  return { name, struts, spheres };
}

const middle = (points: readonly Place[]): Place =>
  [0, 1, 2].map((k) => points.reduce((sum, point) => sum + point[k], 0) / points.length) as Place;
const radiusOf = (points: readonly Place[]): number =>
  points.reduce((sum, point) => sum + distance(point, middle(points)), 0) / points.length;
export const distance = (a: Place, b: Place): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);

/** Gives the loader what it takes from a browser: a parser, and elements found by names one inside another. Taken away again. */
function asInABrowser<T>(run: () => T): T {
  const scope = globalThis as { DOMParser?: unknown };
  const found = {
    querySelectorAll(this: Element | Document, names: string) {
      return names
        .split(' ')
        .reduce<(Element | Document)[]>((within, name) => within.flatMap((each) => [...each.getElementsByTagNameNS('*', name)]), [this]);
    },
    querySelector(this: Element | Document, names: string) {
      return found.querySelectorAll.call(this, names)[0] ?? null;
    },
  };
  const browserLike = [Element.prototype, Document.prototype] as object[];
  for (const prototype of browserLike) Object.assign(prototype, found);
  scope.DOMParser = DOMParser;
  try {
    return run();
  } finally {
    delete scope.DOMParser;
    for (const prototype of browserLike) for (const name of Object.keys(found)) Reflect.deleteProperty(prototype, name);
  }
}
