import { strToU8 } from 'fflate';
import type { StrutGraph } from '../lattice/index.ts';
import type { SurfaceMesh } from '../mesh/index.ts';
import { linearColour, ROLE_COLOURS } from '../picture/index.ts';
import { shadedVertices } from './shaded-vertices.ts';

const [MAGIC, VERSION, JSON_CHUNK, BIN_CHUNK] = [0x46546c67, 2, 0x4e4f534a, 0x004e4942];
const [FLOAT, UNSIGNED_INT, ARRAY_BUFFER, ELEMENT_ARRAY_BUFFER] = [5126, 5125, 34962, 34963];

/**
 * A binary glTF 2.0 file of a lattice's surface: metres, +Y up (the build direction), one primitive and material for each role, exact normals. `poll` is called
 * every few milliseconds; what it throws ends it.
 */
export function glb(mesh: SurfaceMesh, graph: StrutGraph, generator: string, poll = () => {}): Uint8Array {
  const parts = shadedVertices(mesh, graph, poll);
  const blocks: Uint8Array[] = [];
  const bufferViews: object[] = [];
  let offset = 0;
  const store = (values: Float32Array | Uint32Array, target: number): number => {
    const block = new Uint8Array(values.buffer, values.byteOffset, values.byteLength);
    bufferViews.push({ buffer: 0, byteOffset: offset, byteLength: block.length, target });
    blocks.push(block);
    offset += block.length;
    return bufferViews.length - 1;
  };
  const accessors: object[] = [];
  const access = (bufferView: number, componentType: number, type: string, count: number, bounds: object = {}): number =>
    accessors.push({ bufferView, componentType, type, count, ...bounds }) - 1;
  const primitives = parts.map(({ positions, normals, indices }, material) => ({
    attributes: {
      POSITION: access(store(positions, ARRAY_BUFFER), FLOAT, 'VEC3', positions.length / 3, boundsOf(positions)),
      NORMAL: access(store(normals, ARRAY_BUFFER), FLOAT, 'VEC3', normals.length / 3),
    },
    indices: access(store(indices, ELEMENT_ARRAY_BUFFER), UNSIGNED_INT, 'SCALAR', indices.length),
    material,
  }));
  const materials = parts.map(({ role, name }) => ({
    name,
    pbrMetallicRoughness: {
      baseColorFactor: [...linearColour(ROLE_COLOURS[role % ROLE_COLOURS.length]), 1],
      metallicFactor: 0,
      roughnessFactor: 0.7,
    },
  }));
  return assembled(
    {
      asset: { version: '2.0', generator },
      scene: 0,
      scenes: [{ nodes: [0] }],
      nodes: [{ mesh: 0, name: 'lattice' }],
      meshes: [{ primitives, name: 'lattice' }],
      materials,
      accessors,
      bufferViews,
      buffers: [{ byteLength: offset }],
    },
    blocks,
  );
}

function boundsOf(positions: Float32Array): { min: number[]; max: number[] } {
  const [min, max] = [
    [Infinity, Infinity, Infinity],
    [-Infinity, -Infinity, -Infinity],
  ];
  positions.forEach((x, k) => {
    min[k % 3] = Math.min(min[k % 3], x);
    max[k % 3] = Math.max(max[k % 3], x);
  });
  return { min, max };
}

/** Header, then the two chunks, each filled up to four bytes: text with spaces, numbers need none. */
function assembled(document: object, blocks: readonly Uint8Array[]): Uint8Array {
  const json = strToU8(JSON.stringify(document));
  const jsonLength = 4 * Math.ceil(json.length / 4);
  const binLength = blocks.reduce((sum, { length }) => sum + length, 0);
  const bytes = new Uint8Array(28 + jsonLength + binLength);
  const view = new DataView(bytes.buffer);
  [MAGIC, VERSION, bytes.length, jsonLength, JSON_CHUNK].forEach((word, k) => view.setUint32(4 * k, word, true));
  bytes.fill(0x20, 20, 20 + jsonLength).set(json, 20);
  view.setUint32(20 + jsonLength, binLength, true);
  view.setUint32(24 + jsonLength, BIN_CHUNK, true);
  let at = 28 + jsonLength;
  for (const block of blocks) {
    bytes.set(block, at);
    at += block.length;
  }
  return bytes;
}
