import { onOwnDatabase } from './database.ts';
import { measureOverhead, type Overhead } from './overhead.ts';
import { checksumOf, type Row } from './row.ts';

const EVALUATIONS = 200;

/** What records, queue and threads add around the engine, over a database of its own: the embedded one, as a first start has it. */
export async function serviceRow(): Promise<Row> {
  return rowOf(await onOwnDatabase((databaseUrl) => measureOverhead({ databaseUrl, evaluations: EVALUATIONS, threads: 1 })));
}

function rowOf({ submitMs, runMs, msPerEvaluation, evaluationsPerS, evaluations }: Overhead): Row {
  return {
    ...{ minMs: msPerEvaluation, medianMs: msPerEvaluation, maxMs: msPerEvaluation },
    name: 'service around the engine, per evaluation',
    input: `${evaluations} evaluations of GP(3,3), two layers, embedded PostgreSQL with the queue in it, one thread that answers at once; mean of all`,
    checksum: checksumOf([evaluations]),
    beside: `submit ${submitMs.toFixed(1)} ms + run ${runMs.toFixed(1)} ms; the worker could finish ${evaluationsPerS.toFixed(0)} a second`,
  };
}
