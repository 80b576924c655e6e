import { MATERIALS, type Material, type MaterialBody } from '../openapi/index.ts';
import type { Revisions } from '../prisma/index.ts';
import { revisioned } from './revisioned.ts';

/** Built-in and own materials. */
export const materialRecords = (own: Revisions<MaterialBody>) =>
  revisioned<MaterialBody, Material>({ what: 'material', url: '/v1/materials', builtIn: MATERIALS, own });

export const materialHandlers = ({ create, list, get, archive }: ReturnType<typeof materialRecords>) => ({
  createMaterial: create,
  listMaterials: list,
  getMaterial: get,
  archiveMaterial: archive,
});
