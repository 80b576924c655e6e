import { describe, expect, it } from 'vitest';
import { newBoard } from '../../worker/engine-board.ts';
import runEngine from '../../worker/engine-thread.ts';
import { checkThreeMf } from '../engine/export/three-mf-rules.ts';
import { inputOf, TRAINING_BALL } from '../engine/inputs.ts';

describe('an engine thread', () => {
  it('makes the files of an evaluation: its graph, and its lattice for printers', async () => {
    const answer = await runEngine({
      kind: 'evaluation',
      input: await inputOf({ parameterSet: TRAINING_BALL }),
      inputHash: 'sha256:0',
      board: newBoard(),
    });
    if (answer.kind !== 'done') throw new Error(answer.kind);
    expect(answer.files.map(({ name, mediaType }) => [name, mediaType])).toEqual([
      ['graph.json', 'application/json'],
      ['lattice.3mf', 'model/3mf'],
    ]);
    const [graph, lattice] = answer.files.map(({ content }) => content);
    const { broken, notes, lattices } = checkThreeMf(lattice as Uint8Array);
    expect({ broken, notes }).toEqual({ broken: [], notes: [] });
    const { nodes, struts } = JSON.parse(graph as string);
    expect(lattices.map(({ vertices, beams }) => [vertices.length, beams.length])).toEqual([[nodes.length, struts.length]]);
    // measured at 18 kB, beside 113 kB of the graph
    expect(lattice.length).toBeLessThan(50_000);
  });
});
