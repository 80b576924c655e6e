import { beforeAll, describe, expect, it } from 'vitest';
import type { FileName } from '../../../openapi/files.ts';
import type { FileInput } from '../../../prisma/index.ts';
import { evaluate } from '../../../worker/engine/index.ts';
import { madeFile } from '../../../worker/files/index.ts';
import { inputOf } from '../../engine/inputs.ts';

let input: Omit<FileInput, 'order' | 'stored'>;
const orderOf = (name: FileName): FileInput => ({ ...input, order: { name }, stored: name });

beforeAll(async () => {
  const evaluation = await inputOf({
    parameterSet: {
      carrier: { shape: 'sphere', outsideDiameterMm: 100 },
      tiling: { kind: 'goldberg', m: 1, n: 0, relaxation: 'none', orientation: 'split-plane' },
      layers: [{ depthMm: 0, strutDiameterMm: 7 }],
      links: { pattern: 'none' },
    },
    tests: { depth: 'full', drop: { heightMm: 100, orientations: 1 } },
  });
  const outcome = evaluate(evaluation);
  const { result } = outcome.kind === 'done' ? outcome : outcome.kind === 'failed' && outcome.partial ? outcome.partial : { result: null };
  input = { of: '', evaluation, result: { engine: { version: '1.0.0', inputHash: 'sha256:0' }, ...result } as FileInput['result'] };
});

/** Files that take long. */
const LONG: FileName[] = [
  'lattice.stl',
  'lattice.glb',
  'lattice-mesh.3mf',
  'layers.csv',
  'section.svg',
  'picture.png',
  'bounce.json',
  'bounce.png',
  'report.html',
];

describe('a file that somebody stops', () => {
  it.each(LONG)('%s is cancelled on the way', async (name) => {
    let looks = 0;
    expect(await madeFile(orderOf(name), { isCancelled: () => ++looks > 20 })).toEqual({ kind: 'cancelled' });
    expect(looks).toBe(21);
  });
});
