import { DOMParser, Element } from '@xmldom/xmldom';
import { ThreeMFLoader } from 'three/examples/jsm/loaders/3MFLoader.js';

type Place = [number, number, number];

/** One copy of a part as the loader draws it, in its place in the build. */
export interface Drawn {
  readonly name: string;
  readonly struts: readonly { readonly from: Place; readonly to: Place; readonly radiusFrom: number; readonly radiusTo: number }[];
  readonly spheres: readonly { readonly centre: Place; readonly radius: number }[];
}

/** The loader draws a strut as two rings of 8 corners, each closed by its first again, and a sphere as 7 rings of as many from pole to pole. */
const RING = 9;
const STRUT = 2 * RING;
const SPHERE = 7 * RING;

/**
 * Reads a 3MF file with the loader of three.js, which makes meshes of it and keeps nothing else: all struts first, then the spheres, one for each
 * vertex. Places and radii are got back from the corners, which are in single precision.
 */
export function drawnBy3MFLoader(bytes: Uint8Array, strutCounts: ReadonlyMap<string, number>): Drawn[] {
  const scene = inADocument(() => new ThreeMFLoader().parse(Uint8Array.from(bytes).buffer));
  scene.updateMatrixWorld(true);
  const drawn: Drawn[] = [];
  scene.traverse(({ isMesh, name, geometry, matrixWorld }) => {
    if (isMesh) drawn.push(measure(name, pointsOf(geometry.attributes.position.array, matrixWorld.elements), strutCounts.get(name) ?? 0));
  });
  return drawn;
}
