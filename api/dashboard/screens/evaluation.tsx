import { useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { Findings } from '../parts/findings.tsx';
import { Unkept } from '../parts/origin.tsx';
import { Age, Problem, Shown, State } from '../parts/shown.tsx';
import { isLive, useResource } from '../use-resource.ts';

type Evaluation = Answer<'/v1/evaluations/{id}'>;

/** One evaluation: how far it is, then what it found. */
export function EvaluationScreen({ id, query }: { id: string; query: URLSearchParams }) {
  const evaluation = useResource<Evaluation>(`/v1/evaluations/${id}`, {
    everyMs: 700,
    isLive,
  });
  return (
    <Shown of={evaluation}>
      {(found) => (
        <>
          <h1 tabIndex={-1}>{found.version === null ? 'Evaluation' : `Version ${found.version}`}</h1>
          <p class="row">
            <State is={found.status} />
            {found.designId && <a href={`#/designs/${found.designId}`}>its design</a>}
            {found.versionId === null && <Unkept id={found.id} query={query} />}
            {found.designId && found.version !== null && (
              <a href={`#/new?design=${found.designId}&based-on=${found.version}`}>a version based on it</a>
            )}
            {found.designId && found.versionId && (
              <>
                <a href={`#/batches?design=${found.designId}&version=${found.versionId}`}>many around it</a>
                <a href={`#/searches?design=${found.designId}&version=${found.versionId}`}>a search from it</a>
              </>
            )}
            {found.stage && <span>{found.stage}</span>}
            {evaluation.at && found.finishedAt === null && <Age at={evaluation.at} />}
          </p>
          {found.finishedAt === null && <UnderWay evaluation={found} onChange={evaluation.refresh} />}
          {found.error && (
            <div class="problem" role="alert">
              <strong>{found.error.message}</strong> <code>{found.error.code}</code>
            </div>
          )}
          {found.result && <Findings evaluation={found} result={found.result} />}
        </>
      )}
    </Shown>
  );
}

function UnderWay({ evaluation: { id, progressPct, stage }, onChange }: { evaluation: Evaluation; onChange: () => void }) {
  const [error, setError] = useState<Refused | null>(null);
  const stop = () => ask(`/v1/evaluations/${id}`, { method: 'DELETE' }).then(onChange, setError);
  return (
    <div class="card">
      <label>
        {stage ?? 'waiting for a worker'}, {Math.round(progressPct)} %
        <progress max={100} value={progressPct} />
      </label>
      <button type="button" onClick={stop}>
        Cancel
      </button>
      {error && <Problem error={error} />}
    </div>
  );
}
