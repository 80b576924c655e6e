import type { Answer } from '../client.ts';
import { Shown, State } from '../parts/shown.tsx';
import { useResource } from '../use-resource.ts';
import { ago, label, number } from '../words.ts';

type Acceptance = Answer<'/v1/acceptances/{id}'>;

/** One decision: of each target what is said and how surely, by whom, on what evidence. */
export function AcceptanceScreen({ id }: { id: string }) {
  const acceptance = useResource<Acceptance>(`/v1/acceptances/${id}`);
  return (
    <Shown of={acceptance}>
      {(found) => (
        <>
          <h1 tabIndex={-1}>Acceptance of version {found.version}</h1>
          <p class="row">
            <State is={found.verdict} />
            <span>
              against {found.reference}, revision {found.referenceRevision}; {found.coveragePct} % of parts, with {found.confidencePct} %
              confidence
            </span>
            <a href={`#/designs/${found.designId}`}>its design</a>
          </p>
          <p class="quiet">
            Decided by {found.decidedBy.name}, {ago(found.createdAt)}. {found.notes}
          </p>
          <section class="card">
            <h2>Target by target</h2>
            <ul class="plain checks">
              {found.targets.map(({ quantity, verdict, statement, more, interval }) => (
                <li key={quantity}>
                  <div class="row">
                    <State is={verdict} />
                    <strong>{label(quantity).name}</strong>
                    {interval && (
                      <span class="quiet">
                        interval {number(interval.from)} to {number(interval.to)} {label(quantity).unit}
                      </span>
                    )}
                  </div>
                  <p>
                    {statement} {more !== null && `About ${more} more parts would decide it.`}
                  </p>
                </li>
              ))}
            </ul>
            {found.durability && (
              <p>
                <State is={found.durability.verdict} /> {found.durability.statement}
              </p>
            )}
            {found.unjudged.length > 0 && <p class="quiet">Not judged: {found.unjudged.map((each) => label(each).name).join(', ')}.</p>}
          </section>
          <Evidence items={found.evidence} />
        </>
      )}
    </Shown>
  );
}

function Evidence({ items }: { items: Acceptance['evidence'] }) {
  return (
    <section class="card">
      <h2>Evidence</h2>
      {items.length === 0 ? (
        <p class="quiet">Nothing was measured.</p>
      ) : (
        <ul>
          {items.map(({ measurementId, serial, measuredAt, quantities }) => (
            <li key={measurementId}>
              {serial}, {measuredAt.slice(0, 10)}:{' '}
              {Object.entries(quantities as Record<string, number[]>)
                .map(
                  ([quantity, readings]) =>
                    `${label(quantity).name} ${readings.map((each) => number(each)).join(', ')} ${label(quantity).unit}`,
                )
                .join('; ')}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
