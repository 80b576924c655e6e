import { readFile } from 'node:fs/promises';
import type { ParseArgsConfig } from 'node:util';
import type { z } from 'zod';
import { validate } from '../../openapi/field-errors.ts';
import type { FieldError } from '../../openapi/problems.ts';

/** The caller's input cannot be used; each line names the field, the value and what is allowed. Exit code 2. */
export class BadInput extends Error {
  override readonly name = 'BadInput';
  constructor(lines: readonly string[]) {
    super(lines.join('\n'));
  }
}

/** The computation ended with a typed failure; `output` is what it still has to say on stdout. Exit code 1. */
export class RunFailed extends Error {
  override readonly name = 'RunFailed';
  readonly output: string;
  constructor({ code, message }: { code: string; message: string }, output: string) {
    super(`${message} (${code})`);
    this.output = output;
  }
}

export type OptionValues = Record<string, string | boolean | undefined>;

/** One offline command: a file of its own, listed in main.ts. */
export interface Command {
  name: string;
  /** The line after the name: arguments and options. */
  usage: string;
  summary: string;
  options: NonNullable<ParseArgsConfig['options']>;
  /** Names of the files and folders it takes, in order. */
  positionals: readonly string[];
  /** Answers what goes to stdout. `note` writes a line to stderr. Throws BadInput, RunFailed. */
  run(positionals: readonly string[], values: OptionValues, note: (line: string) => void): Promise<string>;
}

/** Field errors as lines: `input.json /layers/0/depthMm is -1; allowed: ...`. */
export const errorLines = (source: string, errors: readonly FieldError[]): string[] =>
  errors.map((each) => `${source} ${each.pointer || '(the whole)'} ${each.detail}`);

/** The JSON in a file. Throws BadInput when there is none. */
export async function readJson(path: string): Promise<unknown> {
  const text = await readFile(path, 'utf8').catch((error: NodeJS.ErrnoException) => {
    throw new BadInput([`${path} cannot be read (${error.code ?? error.message}); allowed: a readable JSON file`]);
  });
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new BadInput([`${path} is not JSON: ${(error as Error).message.replaceAll('\n', ' ')}`]);
  }
}

/** The number given for an option, checked by a schema. Throws BadInput, also when the option is left out and the schema has no default. */
export function numberOption(values: OptionValues, name: string, schema: z.ZodType<number>): number {
  const text = values[name];
  const value = typeof text === 'string' && text.trim() !== '' ? Number(text) : text;
  const checked = validate(schema, Number.isNaN(value) ? text : value);
  if (checked.ok) return checked.value;
  throw new BadInput(checked.errors.map((each) => `--${name} ${each.detail}`));
}

/** The one of several words given for an option, the first when it is left out. Throws BadInput. */
export function choiceOption<Word extends string>(values: OptionValues, name: string, words: readonly [Word, ...Word[]]): Word {
  const given = values[name] ?? words[0];
  const chosen = words.find((each) => each === given);
  if (chosen) return chosen;
  throw new BadInput([`--${name} is ${JSON.stringify(given)}; allowed: ${words.join(', ')}`]);
}
