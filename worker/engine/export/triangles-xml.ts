import type { SurfaceMesh } from '../mesh/index.ts';
import { decimal } from './xml-text.ts';

/** The `mesh` element of a closed surface (3MF Core Specification 1.3, section 4.1): vertices, then triangles, counter-clockwise from outside. */
export function trianglesXml({ xyz, triangles }: SurfaceMesh): string {
  const lines = ['<mesh>', '<vertices>'];
  for (let k = 0; k < xyz.length; k += 3) {
    lines.push(`<vertex x="${decimal(xyz[k])}" y="${decimal(xyz[k + 1])}" z="${decimal(xyz[k + 2])}"/>`);
  }
  lines.push('</vertices>', '<triangles>');
  for (let k = 0; k < triangles.length; k += 3) {
    lines.push(`<triangle v1="${triangles[k]}" v2="${triangles[k + 1]}" v3="${triangles[k + 2]}"/>`);
  }
  lines.push('</triangles>', '</mesh>');
  return lines.join('\n');
}
