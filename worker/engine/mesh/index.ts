export { enclosed } from './enclosed.ts';
export { stepAngle } from './facets.ts';
export { openEdges } from './open-edges.ts';
export { type Loop, sectionOf } from './section.ts';
export type { Beyond, SurfaceMesh } from './stitched.ts';
export { type MeshOptions, surfaceMesh } from './surface-mesh.ts';
