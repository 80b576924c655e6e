import { useState } from 'preact/hooks';
import type { Answer } from '../client.ts';
import { Newest } from '../parts/newest.tsx';
import { State } from '../parts/shown.tsx';
import { Quantity } from '../parts/value.tsx';
import { Met, useTargets } from '../parts/verdicts.tsx';
import { useFilter } from '../use-filter.ts';
import { isLive, useResource } from '../use-resource.ts';
import { ago } from '../words.ts';

type Design = Answer<'/v1/designs'>['items'][number];

/** Every design with what its newest evaluation came to. */
export function Designs() {
  const [filter, setFilter] = useState('');
  const none = (
    <>
      There are no designs yet. <a href="#/new">Post a first parameter set</a>, or let a tool post to <code>/v1/designs</code>.
    </>
  );
  return (
    <>
      <div class="row" style={{ justifyContent: 'space-between' }}>
        <h1 tabIndex={-1}>Designs</h1>
        <a href="#/new">Start a new one</a>
      </div>
      <form class="row filters" aria-label="Filters" onInput={useFilter(setFilter)} onSubmit={(event) => event.preventDefault()}>
        <label>
          words of names and notes
          <input name="q" type="search" maxLength={200} autocomplete="off" />
        </label>
        <label>
          tag
          <input name="tag" autocomplete="off" />
        </label>
      </form>
      <Newest<Design> key={filter} of="/v1/designs" query={filter} empty={filter === '' ? none : 'Nothing is like that.'}>
        {(items) => (
          <div class="grid">
            {items.map((design) => (
              <DesignCard key={design.id} {...design} />
            ))}
          </div>
        )}
      </Newest>
    </>
  );
}

function DesignCard({ id, name, tags, createdAt }: Design) {
  const newest = useResource<Answer<'/v1/evaluations'>>(`/v1/evaluations?designId=${id}&limit=1`, {
    everyMs: 3000,
    isLive: ({ items }) => items.some(isLive),
  });
  const last = newest.data?.items[0];
  const targets = useTargets(last?.status === 'done' ? last.id : null);
  return (
    <article class="card">
      <h2>
        <a href={`#/designs/${id}`}>{name}</a>
      </h2>
      <p class="quiet">
        begun {ago(createdAt)}{' '}
        {tags.map((tag) => (
          <span key={tag} class="tag">
            {tag}
          </span>
        ))}
      </p>
      {last ? (
        <dl>
          <dt>newest evaluation</dt>
          <dd>
            version {last.version ?? '–'}, <State is={last.status} />
          </dd>
          <dt>can it be made</dt>
          <dd>{last.verdict ? <State is={last.verdict} /> : '–'}</dd>
          <dt>targets</dt>
          <dd>{targets ? <Met targets={targets} /> : '–'}</dd>
          <dt>mass</dt>
          <dd>
            <Quantity name="massG" of={last.quantities.massG} />
          </dd>
          <dt>comes back to</dt>
          <dd>
            <Quantity name="reboundHeightMm" of={last.quantities.reboundHeightMm} />
          </dd>
        </dl>
      ) : (
        newest.data && <p class="quiet">Nothing evaluated yet.</p>
      )}
    </article>
  );
}
