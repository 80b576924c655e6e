import { z } from 'zod';
import { between } from '../../openapi/common.ts';
import { validate } from '../../openapi/field-errors.ts';
import { BadInput, errorLines, readJson } from './command.ts';

const size = between(-1e9, 1e9);
const vector = z.tuple([size, size, size]).default([0, 0, 0]);
const loads = z.strictObject({
  forces: z
    .array(z.strictObject({ node: z.int().min(0), forceN: vector, momentNMm: vector }))
    .min(1)
    .max(100_000),
});
export type NodeLoads = z.infer<typeof loads>['forces'];

/** The loads in a loads.json, on nodes that the graph has. Throws BadInput. */
export async function readLoads(path: string, nodeCount: number): Promise<NodeLoads> {
  const checked = validate(loads, await readJson(path));
  if (!checked.ok) throw new BadInput(errorLines(path, checked.errors));
  const { forces } = checked.value;
  const beyond = forces.findIndex(({ node }) => node >= nodeCount);
  if (beyond >= 0)
    throw new BadInput([
      `${path} /forces/${beyond}/node is ${forces[beyond].node}; allowed: 0 to ${nodeCount - 1}, the nodes of the graph`,
    ]);
  return forces;
}
