import { useState } from 'preact/hooks';
import type { Search } from '../../../openapi/index.ts';
import { ask, type Refused } from '../client.ts';
import { Newest } from '../parts/newest.tsx';
import { From, keeping, type Members } from '../parts/origin.tsx';
import { Pareto } from '../parts/pareto.tsx';
import { SearchForm } from '../parts/search-form.tsx';
import { Problem, Shown, State } from '../parts/shown.tsx';
import { quantityHeads, Table } from '../parts/table.tsx';
import { Targets } from '../parts/targets.tsx';
import { Value } from '../parts/value.tsx';
import { WhatIf } from '../parts/what-if.tsx';
import { isLive, roughly, useResource } from '../use-resource.ts';
import { ago, inWords, label, number } from '../words.ts';

/** Searches for parameters that meet a reference: how far each is and what it found. */
export function Searches({ id, query }: { id: string | null; query: URLSearchParams }) {
  return id ? <One id={id} /> : <All query={query} />;
}

function All({ query }: { query: URLSearchParams }) {
  return (
    <>
      <h1 tabIndex={-1}>Searches</h1>
      <div class="grid">
        <SearchForm query={query} />
        <div class="stack">
          <Newest<Search> of="/v1/searches">
            {(items) =>
              items.map((each) => (
                <article key={each.id} class="card">
                  <h2>
                    <a href={`#/searches/${each.id}`}>{each.name || 'Search'}</a>
                  </h2>
                  <Progress search={each} />
                </article>
              ))
            }
          </Newest>
        </div>
      </div>
    </>
  );
}

function Progress({ search: { status, progress, createdAt, verdict } }: { search: Search }) {
  return (
    <>
      <p>
        <State is={status} />
        <span class="quiet"> · posted {ago(createdAt)}</span>
      </p>
      <label>
        {progress.evaluations} of at most {progress.budget} tried
        {progress.bestMissPct !== null && `, the nearest misses by ${number(progress.bestMissPct, 3)} %`}
        <progress max={progress.budget} value={progress.evaluations} />
      </label>
      <p>{inWords(verdict)}</p>
    </>
  );
}

function One({ id }: { id: string }) {
  const search = useResource<Search>(`/v1/searches/${id}`, { everyMs: 1500, isLive });
  const [error, setError] = useState<Refused | null>(null);
  const cancel = () => ask(`/v1/searches/${id}`, { method: 'DELETE' }).then(search.refresh, setError);
  return (
    <Shown of={search}>
      {(found) => (
        <>
          <h1 tabIndex={-1}>{found.name || 'Search'}</h1>
          <section class="card">
            <Progress search={found} />
            <div class="row">
              {isLive(found) && (
                <button type="button" onClick={cancel}>
                  Cancel
                </button>
              )}
              <a href={`#/evaluations?searchId=${id}`}>Its evaluations</a>
              <From origin={found.origin} />
            </div>
            {error && <Problem error={error} />}
          </section>
          {found.best && (
            <section class="card">
              <h2>
                <a href={`#/evaluations/${found.best.evaluationId}?searchId=${id}`}>The best so far</a>
              </h2>
              <Targets targets={found.best.targets} />
              <p>
                <a href={keeping(found.best.evaluationId, found.origin)}>Keep it as a version</a>
              </p>
            </section>
          )}
          {found.ranking.length > 0 && <Ranking of={`searchId=${id}`} rows={found.ranking} />}
          {found.sensitivities.length > 0 && <Sensitivities rows={found.sensitivities} />}
          <Pareto of={`searchId=${id}`} done={roughly(found.progress.evaluations, isLive(found))} />
          <WhatIf of={{ searchId: id }} done={found.progress.evaluations - found.progress.failed} />
        </>
      )}
    </Shown>
  );
}

const setTo = ({ path, value }: Search['ranking'][number]['settings'][number]) =>
  `${path} ${typeof value === 'object' ? JSON.stringify(value) : String(value)}`;

function Ranking({ of, rows }: { of: Members; rows: Search['ranking'] }) {
  const quantities = [...new Set(rows.flatMap(({ values }) => Object.keys(values)))];
  return (
    <section class="card scroll">
      <h2>What was tried, the best first</h2>
      <Table heads={['evaluation', 'misses by', ...quantityHeads(quantities)]}>
        {rows.map(({ evaluationId, settings, meetsAll, missPct, values }) => (
          <tr key={evaluationId}>
            <th scope="row">
              <a href={`#/evaluations/${evaluationId}?${of}`}>{settings.map(setTo).join(', ')}</a>
            </th>
            <td>{meetsAll ? <State is="pass" /> : <Value of={missPct} unit="%" digits={3} />}</td>
            {quantities.map((quantity) => (
              <td class="number" key={quantity}>
                {number(values[quantity])}
              </td>
            ))}
          </tr>
        ))}
      </Table>
    </section>
  );
}

function Sensitivities({ rows }: { rows: Search['sensitivities'] }) {
  return (
    <section class="card scroll">
      <h2>What to change next</h2>
      <ul>
        {rows.map(({ quantity, path, pctPerPct }) => (
          <li key={quantity + path}>
            <code>{path}</code> up by 1 %: {label(quantity).name} {pctPerPct < 0 ? 'down' : 'up'} by {number(Math.abs(pctPerPct), 2)} %
          </li>
        ))}
      </ul>
    </section>
  );
}
