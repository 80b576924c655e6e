import { useEffect, useRef, useState } from 'preact/hooks';
import { type Answer, ask, type Refused } from '../client.ts';
import { COLUMNS, HistoryFilters } from '../parts/history-filters.tsx';
import { Problem, State, Waiting } from '../parts/shown.tsx';
import { Quantity } from '../parts/value.tsx';
import { ago, label } from '../words.ts';

type Page = Answer<'/v1/evaluations'>;
const LINE = 34;
const PAGE = 100;

/** The history as a long list: pages are fetched as one scrolls towards them, and only the lines in sight are in the page. */
export function History({ query }: { query: URLSearchParams }) {
  const [filter, setFilter] = useState(query.toString());
  const change = (wanted: string) => {
    const all = joined(query, wanted);
    setFilter(all);
    // the address can be passed on; going back leads to the screen before, not through every letter typed
    history.replaceState(null, '', `#/evaluations${all && `?${all}`}`);
  };
  return (
    <>
      <h1 tabIndex={-1}>Evaluations</h1>
      <HistoryFilters query={query} onChange={change} />
      <Lines key={filter} filter={filter} />
      <p>
        <a href="#/reevaluations">Compute earlier evaluations again</a> by a newer engine, and see what moves.
      </p>
    </>
  );
}

/** Which undertaking or design the evaluations are of stays as the address says. */
function joined(query: URLSearchParams, wanted: string): string {
  const all = new URLSearchParams(wanted);
  for (const name of ['batchId', 'searchId', 'reevaluationId', 'designId', 'versionId']) {
    const value = query.get(name);
    if (value) all.set(name, value);
  }
  return all.toString();
}

function Lines({ filter }: { filter: string }) {
  const [items, setItems] = useState<Page['items']>([]);
  const [cursor, setCursor] = useState<string | null | undefined>(undefined);
  const [error, setError] = useState<Refused | null>(null);
  const [top, setTop] = useState(0);
  const busy = useRef(false);
  const box = useRef<HTMLElement>(null);

  const more = () => {
    if (busy.current || cursor === null) return;
    busy.current = true;
    const url = `/v1/evaluations?${filter}${filter ? '&' : ''}limit=${PAGE}${cursor ? `&cursor=${cursor}` : ''}`;
    ask<Page>(url)
      .then(({ body }) => {
        setItems((before) => [...before, ...body!.items]);
        setCursor(body!.nextCursor);
        setError(null);
      }, setError)
      .finally(() => {
        busy.current = false;
      });
  };
  useEffect(more, []);

  const all = new URLSearchParams(filter);
  const of = ['batchId', 'searchId'].flatMap((name) => (all.has(name) ? [`${name}=${all.get(name)}`] : [])).join('&');
  const height = box.current?.clientHeight ?? 600;
  const first = Math.max(0, Math.floor(top / LINE) - 8);
  const last = Math.min(items.length, Math.ceil((top + height) / LINE) + 8);
  const scrolled = () => {
    setTop(box.current!.scrollTop);
    if (box.current!.scrollTop + height > items.length * LINE - 2 * height) more();
  };
  if (error && items.length === 0) return <Problem error={error} />;
  if (cursor === undefined) return <Waiting />;
  if (items.length === 0) return <p>Nothing is like that.</p>;
  return (
    <>
      {error && <Problem error={error} />}
      <p class="quiet" role="status">
        {items.length}
        {cursor === null ? '' : ' and more'} {items.length === 1 ? 'evaluation' : 'evaluations'}
      </p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls has to be reached by keyboard */}
      <section class="rows" ref={box} onScroll={scrolled} tabIndex={0} aria-label="Evaluations">
        <div class="line head" style={{ position: 'sticky' }}>
          <span>when</span>
          <span>state</span>
          <span>made?</span>
          {COLUMNS.map((each) => (
            <span class="number" key={each}>
              {label(each).name}
            </span>
          ))}
        </div>
        <div style={{ height: `${items.length * LINE}px`, position: 'relative' }}>
          {items.slice(first, last).map((each, k) => (
            <a key={each.id} class="line" href={`#/evaluations/${each.id}${of && `?${of}`}`} style={{ top: `${(first + k) * LINE}px` }}>
              <span>{ago(each.createdAt)}</span>
              <span>
                <State is={each.status} />
              </span>
              <span>{each.verdict && <State is={each.verdict} />}</span>
              {COLUMNS.map((quantity) => (
                <span class="number" key={quantity}>
                  <Quantity name={quantity} of={each.quantities[quantity]} />
                </span>
              ))}
            </a>
          ))}
        </div>
      </section>
    </>
  );
}
