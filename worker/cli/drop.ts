import { z } from 'zod';
import { between } from '../../openapi/common.ts';
import { seed } from '../../openapi/tests.ts';
import { lossFactor } from '../../openapi/viscoelastic.ts';
import { dropOfGraph } from '../engine/index.ts';
import { type Command, numberOption, RunFailed } from './command.ts';
import { ELASTIC_OPTIONS, elasticOptions } from './elastic-options.ts';
import { readGraphFile } from './graph-file.ts';

/** The virtual drop of any graph: the `rebound` object of a result. */
export const dropCommand: Command = {
  name: 'drop',
  usage:
    'graph.json --modulusMPa 60 --referenceHz 30 --poisson 0.45 --densityGCm3 1.1 --lossFactor 0.12 --heightMm 1800 [--orientations 6 --seed 1 --joints none]',
  summary: 'How high the solid that a graph stands for bounces off a rigid floor, and what that costs it, as JSON.',
  options: {
    ...ELASTIC_OPTIONS,
    ...{ referenceHz: { type: 'string' }, lossFactor: { type: 'string' }, heightMm: { type: 'string' } },
    ...{ orientations: { type: 'string' }, seed: { type: 'string' } },
  },
  positionals: ['graph.json'],
  run: async ([path], values) => {
    const { joints, ...elastic } = elasticOptions(values);
    const material = {
      ...elastic,
      referenceHz: numberOption(values, 'referenceHz', between(0.001, 1e6).default(30)),
      lossFactor: numberOption(values, 'lossFactor', lossFactor),
      quasiStaticModulusMPa: null,
    };
    const asked = {
      heightMm: numberOption(values, 'heightMm', between(1, 20_000)),
      orientations: numberOption(values, 'orientations', z.int().min(1).max(200).default(6)),
      seed: numberOption(values, 'seed', seed.default(1)),
    };
    const { rebound, error } = dropOfGraph(await readGraphFile(path), { material, joints, ...asked });
    const answer = rebound ? JSON.stringify(rebound, null, 2) : '';
    if (error) throw new RunFailed(error, answer);
    return answer;
  },
};
