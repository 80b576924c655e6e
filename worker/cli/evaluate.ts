import { mkdir, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { ENGINE_VERSION } from '../../openapi/engine-version.ts';
import { evaluationInput, type ResolvedInput } from '../../openapi/evaluation.ts';
import { validate } from '../../openapi/field-errors.ts';
import { catalogueLookup, resolveInput } from '../../openapi/resolve.ts';
import type { Result } from '../../openapi/result.ts';
// Not by the room's door: that loads the client of a database.
import { inputHash } from '../../prisma/input-hash.ts';
import { type Evaluated, evaluate, graphJson } from '../engine/index.ts';
import { BadInput, type Command, errorLines, RunFailed, readJson } from './command.ts';
import { fileKinds, filesOf } from './files.ts';
import { resultsTable } from './results-table.ts';

/** The whole evaluation without the service: the same input, engine and result, and files in a folder instead of records. */
export const evaluateCommand: Command = {
  name: 'evaluate',
  usage: 'input.json --out folder [--files kind,kind]',
  summary: 'Evaluates a parameter set: writes result.json and graph.json to the folder and prints a table of the results.',
  options: { out: { type: 'string' }, files: { type: 'string' } },
  positionals: ['input.json'],
  run: async ([path], values, note) => {
    const folder = values.out;
    if (typeof folder !== 'string' || folder === '')
      throw new BadInput(['--out is missing; allowed: a folder, which is made when missing']);
    const kinds = fileKinds(typeof values.files === 'string' ? values.files : '');
    const input = await resolved(path);
    const outcome = evaluate(input);
    if (outcome.kind === 'cancelled') throw new Error('the evaluation was cancelled');
    const evaluated = outcome.kind === 'done' ? outcome : outcome.partial;
    const shown = evaluated === null ? '' : await written(evaluated, { input, folder, kinds, note });
    if (outcome.kind === 'failed') throw new RunFailed(outcome.error, shown);
    return shown;
  },
};

interface Writing {
  input: ResolvedInput;
  folder: string;
  kinds: readonly string[];
  note(line: string): void;
}

/** Writes result and files into the folder, which is made; answers the table of the result. */
async function written({ result: figures, graph, lattice, marked }: Evaluated, { input, folder, kinds, note }: Writing): Promise<string> {
  const result: Result = { engine: { version: ENGINE_VERSION, inputHash: inputHash(input) }, ...figures };
  const files: [string, string | Uint8Array][] = [
    ['result.json', `${JSON.stringify(result, null, 2)}\n`],
    ['graph.json', JSON.stringify(graphJson(graph))],
    ...(await filesOf(kinds, { lattice, marked, evaluation: input, result })),
  ];
  await mkdir(folder, { recursive: true });
  for (const [name, content] of files) await writeFile(join(folder, name), content);
  note(`wrote ${files.map(([name]) => join(folder, name)).join(', ')}`);
  return resultsTable(input, result);
}

/** The input in a file, checked, its keys replaced by the built-in records. Throws BadInput. */
async function resolved(path: string): Promise<ResolvedInput> {
  const checked = validate(evaluationInput, await readJson(path));
  if (!checked.ok) throw new BadInput(errorLines(path, checked.errors));
  const found = await resolveInput(checked.value, catalogueLookup);
  if (!found.ok) throw new BadInput(errorLines(path, found.errors));
  return found.value;
}
