export { enclosed } from './enclosed.ts';
export { openEdges } from './open-edges.ts';
export type { Beyond, SurfaceMesh } from './stitched.ts';
export { type MeshOptions, surfaceMesh } from './surface-mesh.ts';
