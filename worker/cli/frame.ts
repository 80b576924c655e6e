import { z } from 'zod';
import { type FrameQuestion, frameCompliance, frameFrequencies, frameStiffness, type StrutGraph } from '../engine/index.ts';
import { BadInput, type Command, choiceOption, numberOption, type OptionValues, RunFailed } from './command.ts';
import { ELASTIC_OPTIONS, elasticOptions } from './elastic-options.ts';
import { readGraphFile } from './graph-file.ts';
import { readLoads } from './loads-file.ts';

/** The linear frame of any graph: its stiffness between two ends or its compliance under given loads, and how it rings. */
export const frameCommand: Command = {
  name: 'frame',
  usage:
    'graph.json --modulusMPa 60 --poisson 0.45 --densityGCm3 1.1 (--hold 5 --load 5 | --loads loads.json) [--joints none --modes 10 --mass cylinders]',
  summary: 'Stiffness between the lowest and the highest nodes, or compliance under loads, and natural frequencies of a graph, as JSON.',
  options: {
    ...ELASTIC_OPTIONS,
    ...{
      hold: { type: 'string' },
      load: { type: 'string' },
      loads: { type: 'string' },
      modes: { type: 'string' },
      mass: { type: 'string' },
    },
  },
  positionals: ['graph.json'],
  run: async ([path], values) => {
    const elastic = elasticOptions(values);
    const modes = numberOption(
      values,
      'modes',
      z
        .int()
        .min(0)
        .max(200)
        .default(values.loads === undefined ? 10 : 0),
    );
    const question = { ...elastic, modes, mass: choiceOption(values, 'mass', ['cylinders', 'union']) };
    const graph = await readGraphFile(path);
    const answered = await statics(graph, question, values);
    const rings = modes > 0 ? frequencies(graph, question) : {};
    return JSON.stringify({ ...answered, ...rings }, null, 2);
  },
};

async function statics(graph: StrutGraph, question: FrameQuestion, values: OptionValues): Promise<object> {
  if (typeof values.loads === 'string') return compliance(graph, question, values.loads);
  const count = z.int().min(1).max(graph.nodeCount);
  const found = frameStiffness(graph, question, { hold: numberOption(values, 'hold', count), load: numberOption(values, 'load', count) });
  if (found.kind === 'failed') throw new RunFailed(found.error, '');
  return { stiffnessNPerMm: found.stiffnessNPerMm };
}

async function compliance(graph: StrutGraph, question: FrameQuestion, path: string): Promise<object> {
  const found = frameCompliance(graph, question, await readLoads(path, graph.nodeCount));
  if (found.kind === 'failed') throw new RunFailed(found.error, '');
  if (found.kind === 'unbalanced') {
    const left = `${found.forceN.map((each) => each.toPrecision(3))} N and ${found.momentNMm.map((each) => each.toPrecision(3))} N mm about the mean node`;
    throw new BadInput([`${path} /forces do not balance: ${left} are left; allowed: loads that a free body bears at rest`]);
  }
  return { complianceMmPerN: found.complianceMmPerN };
}

function frequencies(graph: StrutGraph, question: FrameQuestion): object {
  const found = frameFrequencies(graph, question);
  if (found.kind === 'failed') throw new RunFailed(found.error, '');
  return { frequenciesHz: found.frequenciesHz };
}
