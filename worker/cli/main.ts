import { parseArgs } from 'node:util';
import { BadInput, type Command, RunFailed } from './command.ts';
import { dropCommand } from './drop.ts';
import { evaluateCommand } from './evaluate.ts';
import { frameCommand } from './frame.ts';
import { massCommand } from './mass.ts';
import { sliceCommand } from './slice.ts';

const COMMANDS: readonly Command[] = [evaluateCommand, massCommand, sliceCommand, frameCommand, dropCommand];

const DONE = 0;
const FAILURE = 1;
const BAD_INPUT = 2;

/** What asks for the overview. */
const ASKED = new Set(['help', '--help', '-h']);

/** Where a command writes: a process's own streams, or what a test reads. */
export interface Output {
  readonly stdout: { write(text: string): unknown };
  readonly stderr: { write(text: string): unknown };
}

/** Runs the command that the arguments name. stdout gets its answer and nothing else. Answers the exit code. */
export async function main(args: readonly string[], { stdout, stderr }: Output = process): Promise<number> {
  const print = (text: string) => {
    stdout.write(text.endsWith('\n') ? text : `${text}\n`);
    return DONE;
  };
  const say = (line: string) => void stderr.write(`${line}\n`);
  const [name = '', ...rest] = args;
  const command = COMMANDS.find((each) => each.name === name);
  if (!command) {
    if (ASKED.has(name)) return print(overview());
    if (name !== '') say(`"${name}" is not a command; allowed: ${COMMANDS.map((each) => each.name).join(', ')}\n`);
    say(overview());
    return BAD_INPUT;
  }
  if (rest.includes('--help') || rest.includes('-h')) return print(helpOf(command));
  try {
    const { values, positionals } = parsed(command, rest);
    return print(await command.run(positionals, values, say));
  } catch (error) {
    if (error instanceof RunFailed && error.output !== '') print(error.output);
    if (!(error instanceof BadInput)) say(`strutwright ${command.name} failed: ${error instanceof Error ? error.message : String(error)}`);
    else say(error.message);
    return error instanceof BadInput ? BAD_INPUT : FAILURE;
  }
}

function parsed(command: Command, args: string[]) {
  let read: ReturnType<typeof parseArgs>;
  try {
    read = parseArgs({ args, options: command.options, allowPositionals: true, strict: true });
  } catch (error) {
    throw new BadInput([(error as Error).message, `Usage: ${usageOf(command)}`]);
  }
  if (read.positionals.length !== command.positionals.length) {
    const given = read.positionals.length === 0 ? 'nothing' : read.positionals.join(' ');
    throw new BadInput([`given: ${given}; needed: ${command.positionals.join(' ')}`, `Usage: ${usageOf(command)}`]);
  }
  return { positionals: read.positionals, values: read.values as Record<string, string | boolean | undefined> };
}

const usageOf = (command: Command): string => `strutwright ${command.name} ${command.usage}`;
const helpOf = (command: Command): string => `Usage: ${usageOf(command)}\n\n${command.summary}`;

const overview = (): string =>
  [
    'Usage: strutwright COMMAND ...   (from the repository: npx --no strutwright COMMAND ...)',
    '       strutwright help | COMMAND --help',
    '',
    ...COMMANDS.map((each) => `  ${usageOf(each)}\n      ${each.summary.split('\n')[0]}`),
    '',
    'Answers go to stdout, everything else to stderr. Exit code 0: done, also when printability fails; 2: bad input; 1: failure.',
  ].join('\n');
