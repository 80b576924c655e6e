import { exampleEvaluation } from '../../openapi/examples.ts';
import { FILTERABLE, type Quantity, type Result, result } from '../../openapi/index.ts';
import type { Records } from '../../prisma/index.ts';

/** The result of the document's example; `numbers` puts made-up ones in the places of its own. */
export function resultWith(numbers: Partial<Record<Quantity, number>> = {}): Result {
  const made = structuredClone(exampleEvaluation.result!);
  for (const [quantity, value] of Object.entries(numbers)) {
    const path = FILTERABLE[quantity as Quantity].split('.');
    const last = path.pop()!;
    const holder = path.reduce<Record<string, never>>((here, key) => here[key], made as never);
    holder[last] = value as never;
  }
  return result.parse(made);
}

/** Does what a worker would do with an evaluation's computation: takes it and stores a result. */
export async function finish({ evaluations, computations }: Records, teamId: string, id: string, made = resultWith()): Promise<void> {
  const { computationId } = (await evaluations.get(teamId, id))!;
  await computations.claim(computationId, 'a test');
  const graph = {
    unit: 'mm',
    nodes: [
      [0, 0, 0],
      [0, 0, 1],
    ],
    struts: [[0, 1, 1, 1]],
    roles: ['layer-0'],
  };
  await computations.finish(computationId, {
    result: made,
    files: [{ name: 'graph.json', mediaType: 'application/json', content: JSON.stringify(graph) }],
  });
}
