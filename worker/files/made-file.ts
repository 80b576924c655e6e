import { FILE_KINDS } from '../../openapi/files.ts';
import type { FileInput, NewFile, RunError } from '../../prisma/index.ts';
import { Cancelled, type EvaluationHooks, printedLattice } from '../engine/index.ts';
import { FILE_MAKERS, type FileMaker } from './makers.ts';

type Made =
  | { kind: 'done'; result: { file: string }; files: NewFile[] }
  | { kind: 'failed'; error: RunError; partial: null }
  | { kind: 'cancelled' };

/** Makes a file that was ordered: lays its lattice out again, then does what its kind asks for. */
export async function madeFile({ order, stored, evaluation, result }: FileInput, hooks: EvaluationHooks): Promise<Made> {
  hooks.onStage?.('shape', 0);
  const printed = printedLattice(evaluation);
  if (printed.kind === 'failed') return { kind: 'failed', error: printed.error, partial: null };
  if (hooks.isCancelled?.()) return { kind: 'cancelled' };
  hooks.onStage?.('file', 0.2);
  const poll = () => {
    if (hooks.isCancelled?.()) throw new Cancelled();
  };
  let content: Awaited<ReturnType<FileMaker>>;
  try {
    content = await FILE_MAKERS[order.name]({ ...printed, evaluation, result, order, poll });
  } catch (error) {
    if (error instanceof Cancelled) return { kind: 'cancelled' };
    throw error;
  }
  if (content === null) {
    return {
      kind: 'failed',
      error: { code: 'no-numbers', message: `${order.name} needs numbers that this evaluation does not have` },
      partial: null,
    };
  }
  const { mediaType } = FILE_KINDS[order.name];
  return { kind: 'done', result: { file: stored }, files: [{ name: stored, mediaType, content }] };
}
