import type { Answer } from '../client.ts';
import { CalibrationForm } from '../parts/calibration-form.tsx';
import { Adopt, Estimates, NextPrint, Predictions, Residuals } from '../parts/learnt.tsx';
import { Newest } from '../parts/newest.tsx';
import { Shown, State } from '../parts/shown.tsx';
import { isLive, useResource } from '../use-resource.ts';
import { ago } from '../words.ts';

type Calibration = Answer<'/v1/calibrations/{id}'>;

/** What prints taught about materials. */
export function Calibrations({ id }: { id: string | null }) {
  return id ? <One id={id} /> : <All />;
}

function All() {
  return (
    <>
      <h1 tabIndex={-1}>Calibrations</h1>
      <div class="grid">
        <CalibrationForm />
        <section class="card">
          <h2>Learnt, newest first</h2>
          <Newest<Answer<'/v1/calibrations'>['items'][number]> of="/v1/calibrations" empty="Nothing yet.">
            {(items) => (
              <ul class="plain">
                {items.map(({ id, status, material, observations, createdAt }) => (
                  <li key={id}>
                    <a href={`#/calibrations/${id}`}>
                      {material} from {observations} {observations === 1 ? 'measurement' : 'measurements'}
                    </a>{' '}
                    <State is={status} /> <span class="quiet">{ago(createdAt)}</span>
                  </li>
                ))}
              </ul>
            )}
          </Newest>
        </section>
      </div>
    </>
  );
}

function One({ id }: { id: string }) {
  const calibration = useResource<Calibration>(`/v1/calibrations/${id}`, { everyMs: 1000, isLive });
  return (
    <Shown of={calibration}>
      {({ status, stage, progressPct, input, result, error }) => (
        <>
          <h1 tabIndex={-1}>What prints of {input.material.key} tell</h1>
          <p class="row">
            <State is={status} />
            <span class="quiet">
              from {input.observations.length} {input.observations.length === 1 ? 'measurement' : 'measurements'}
              {input.leftOut.length > 0 && `, ${input.leftOut.length} left out`}
            </span>
            <a href="#/calibrations">all calibrations</a>
          </p>
          {isLive({ status }) && (
            <label>
              {stage ?? 'waiting for a worker'}
              <progress max={100} value={progressPct} />
            </label>
          )}
          {error && (
            <div class="problem" role="alert">
              <strong>{error.message}</strong> <code>{error.code}</code>
            </div>
          )}
          {result && <Found id={id} input={input} result={result} />}
        </>
      )}
    </Shown>
  );
}

function Found({ id, input, result }: { id: string; input: Calibration['input']; result: NonNullable<Calibration['result']> }) {
  // reasons name versions as the service knows them, people by their numbers
  const numbered = (text: string) =>
    input.versions.reduce((words, { versionId, number }) => words.replaceAll(versionId, `version ${number}`), text);
  return (
    <>
      <NextPrint of={result.nextPrint} numbered={numbered} />
      <div class="grid">
        <Estimates of={result} />
        <Residuals of={result} />
        <Predictions of={result} />
        <Adopt id={id} material={input.material.key ?? 'material'} />
      </div>
      {result.warnings.length > 0 && (
        <section class="card">
          <h2>To be read with it</h2>
          <ul>
            {result.warnings.map(({ code, message }) => (
              <li key={code + message}>{message}</li>
            ))}
          </ul>
        </section>
      )}
      {input.leftOut.length > 0 && (
        <section class="card">
          <h2>Left out</h2>
          <ul>
            {[...new Set(input.leftOut.map(({ reason }) => reason))].map((reason) => (
              <li key={reason}>
                {input.leftOut.filter((each) => each.reason === reason).length}: {reason}
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}
