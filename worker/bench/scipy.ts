import { execFile } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { SparseMatrix } from '../engine/sparse/index.ts';

/** What SciPy's sparse LU takes for the same matrix, its ordering and one solve included. */
export interface PeerSolve {
  readonly version: string;
  /** Order of columns that was the fastest. */
  readonly ordering: string;
  /** Processor time of one run on the average. */
  readonly cpuMs: number;
  /** That of the best run. */
  readonly bestMs: number;
  /** Entries of its L. */
  readonly entries: number;
  readonly x: Float64Array;
}

/** Both ways that suit a symmetric matrix are tried: as it comes, and with an order and pivots of its own for symmetric patterns. */
const SCRIPT = `
import sys, time, json, numpy as np, scipy, scipy.sparse as sp, scipy.sparse.linalg as la
n, nnz = np.fromfile(sys.argv[1], np.int32, 2)
f = open(sys.argv[1], 'rb'); f.seek(8)
ptr, idx = np.fromfile(f, np.int32, n + 1), np.fromfile(f, np.int32, nnz)
values, b = np.fromfile(f, np.float64, nnz), np.fromfile(f, np.float64, n)
L = sp.csc_matrix((values, idx, ptr), shape=(n, n))
A = (L + sp.tril(L, -1).T).tocsc()
best = None
for ordering, options in (('COLAMD', {}), ('MMD_AT_PLUS_A', dict(diag_pivot_thresh=0.0, options=dict(SymmetricMode=True)))):
    runs = []
    for k in range(int(sys.argv[2])):
        t = time.process_time()
        lu = la.splu(A, permc_spec=ordering, **options)
        x = lu.solve(b)
        runs.append(1000 * (time.process_time() - t))
    told = dict(cpuMs=sum(runs) / len(runs), bestMs=min(runs), ordering=ordering, entries=int(lu.L.nnz))
    if best is None or told['cpuMs'] < best['cpuMs']: best = told
best['version'] = scipy.__version__
x.tofile(sys.argv[1])
print(json.dumps(best))
`;

/** SciPy's splu on a matrix, `runs` times with each order, of which the faster counts; null where no python3 has SciPy. */
export async function scipySolve(matrix: SparseMatrix, b: Float64Array, runs: number): Promise<PeerSolve | null> {
  const folder = await mkdtemp(join(tmpdir(), 'strutwright-bench-'));
  try {
    const file = join(folder, 'matrix');
    const { n, colPtr, rowIdx, values } = matrix;
    const parts = [Int32Array.of(n, values.length), colPtr, rowIdx, values, b];
    const bytes = parts.map((part) => Buffer.from(part.buffer, part.byteOffset, part.byteLength));
    for (const python of ['python3', '/usr/bin/python3']) {
      await writeFile(file, Buffer.concat(bytes));
      const { stdout } = await promisify(execFile)(python, ['-c', SCRIPT, file, String(runs)], {
        env: { ...process.env, OMP_NUM_THREADS: '1', OPENBLAS_NUM_THREADS: '1' },
      }).catch(() => ({ stdout: '' }));
      if (stdout === '') continue;
      const told = JSON.parse(stdout) as Omit<PeerSolve, 'x'>;
      const answer = await readFile(file);
      return { ...told, x: new Float64Array(answer.buffer.slice(answer.byteOffset, answer.byteOffset + 8 * n)) };
    }
    return null;
  } finally {
    await rm(folder, { recursive: true });
  }
}
