import type { StrutGraph } from '../lattice/index.ts';
import type { SurfaceMesh } from '../mesh/index.ts';
import { beamLatticeOf, meshXml } from './beam-lattice.ts';
import { type Metadata, modelXml, type Placement } from './three-mf-model.ts';
import { trianglesXml } from './triangles-xml.ts';
import { zip } from './zip.ts';

/** A part of a build: a graph of at least three nodes (which the schema asks for), its name, and where its copies are made. */
export interface BuildPart {
  readonly graph: StrutGraph;
  readonly name: string;
  readonly placements: readonly Placement[];
}

const CONTENT_TYPES = `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/>
</Types>
`;
const RELATIONSHIPS = `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">
<Relationship Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel" Target="/3D/3dmodel.model"/>
</Relationships>
`;
/**
 * A 3MF package (Core Specification 1.3) of beam lattices (Beam Lattice Extension 1.2.0), media type model/3mf: one part alone or a whole build.
 * Millimetres. What metadata there is, dates included, is the caller's.
 */
export function threeMf(parts: readonly BuildPart[], metadata: Metadata): Uint8Array {
  const lattices = parts.map(({ graph }) => beamLatticeOf(graph));
  const extensions = lattices.some(({ balls }) => balls.length > 0) ? 'beams and balls' : 'beams';
  return packed(
    modelXml(
      parts.map(({ name, placements }, k) => ({ mesh: meshXml(lattices[k]), name, placements })),
      metadata,
      extensions,
    ),
  );
}

/**
 * The same of one part as a surface of triangles, for readers that know no beam lattices: the core specification alone; in the first octant. `poll` is called every
 * few milliseconds; what it throws ends it.
 */
export function meshThreeMf(mesh: SurfaceMesh, name: string, metadata: Metadata, poll?: () => void): Uint8Array {
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  mesh.xyz.forEach((x, k) => {
    low[k % 3] = Math.min(low[k % 3], x);
  });
  const placement = { x: -low[0], y: -low[1], z: -low[2] };
  return packed(modelXml([{ mesh: trianglesXml(mesh), name, placements: [placement] }], metadata, 'none'), poll);
}

const packed = (model: Iterable<string>, poll = () => {}): Uint8Array =>
  zip(
    [
      { name: '[Content_Types].xml', text: [CONTENT_TYPES] },
      { name: '_rels/.rels', text: [RELATIONSHIPS] },
      { name: '3D/3dmodel.model', text: model },
    ],
    poll,
  );

/** The placement at which a part touches the planes x = 0, y = 0 and z = 0 from the positive side. */
export function inFirstOctant({ nodeCount, xyz, nodeRadius }: StrutGraph): Placement {
  const low = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let node = 0; node < nodeCount; node++) {
    for (let k = 0; k < 3; k++) low[k] = Math.min(low[k], xyz[3 * node + k] - nodeRadius[node]);
  }
  return { x: -low[0], y: -low[1], z: -low[2] };
}
