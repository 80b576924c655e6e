import type { SurfaceMesh } from '../mesh/index.ts';
import { decimal } from './xml-text.ts';

/** The `mesh` element of a closed surface (3MF Core Specification 1.3, section 4.1): vertices, then triangles, counter-clockwise from outside. Line by line. */
export function* trianglesXml({ xyz, triangles }: SurfaceMesh): Generator<string> {
  yield '<mesh>';
  yield '<vertices>';
  for (let k = 0; k < xyz.length; k += 3) yield `<vertex x="${decimal(xyz[k])}" y="${decimal(xyz[k + 1])}" z="${decimal(xyz[k + 2])}"/>`;
  yield '</vertices>';
  yield '<triangles>';
  for (let k = 0; k < triangles.length; k += 3) {
    yield `<triangle v1="${triangles[k]}" v2="${triangles[k + 1]}" v3="${triangles[k + 2]}"/>`;
  }
  yield '</triangles>';
  yield '</mesh>';
}
