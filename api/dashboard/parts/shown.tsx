import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import { forgetKey, type Refused } from '../client.ts';
import type { Resource } from '../use-resource.ts';
import { ago } from '../words.ts';

/** A refusal in words, with the fields concerned. */
export function Problem({ error }: { error: Refused }) {
  return (
    <div class="problem" role="alert">
      <strong>{error.message}</strong>
      {error.errors.length > 0 && (
        <ul>
          {error.errors.map(({ pointer, detail }) => (
            <li key={pointer + detail}>
              <code>{pointer || '/'}</code> {detail}
            </li>
          ))}
        </ul>
      )}
      {error.status === 401 && (
        <button
          type="button"
          onClick={() => {
            forgetKey();
            location.reload();
          }}
        >
          Use another key
        </button>
      )}
    </div>
  );
}

/** How old what is shown is; ticks. */
export function Age({ at }: { at: number }) {
  const [, tick] = useState(0);
  useEffect(() => {
    const timer = setInterval(() => tick((k) => k + 1), 5000);
    return () => clearInterval(timer);
  }, []);
  return <span class="age">as of {ago(at)}</span>;
}

/** What is known of a resource: loading, its content, and beside content that is kept why it is not newer. */
export function Shown<T>({ of, children }: { of: Resource<T>; children: (data: T) => ComponentChildren }) {
  const { data, error, at } = of;
  if (data === null) return error ? <Problem error={error} /> : <Waiting />;
  return (
    <>
      {error && (
        <div class="stale" role="status">
          {error.message} What you see is kept, {at !== null && <Age at={at} />}; it is asked for again.
        </div>
      )}
      {children(data)}
    </>
  );
}

/** After a moment, so that what is quick does not flicker. */
export function Waiting() {
  const [slow, setSlow] = useState(0);
  useEffect(() => {
    const timers = [setTimeout(() => setSlow(1), 300), setTimeout(() => setSlow(2), 5000)];
    return () => timers.forEach(clearTimeout);
  }, []);
  return (
    <p class="waiting" role="status">
      {['', 'Loading …', 'Still loading; the service is slow to answer.'][slow]}
    </p>
  );
}

const MARKS = {
  pass: '✓',
  warn: '!',
  fail: '✗',
  done: '✓',
  failed: '✗',
  cancelled: '–',
  queued: '…',
  running: '▸',
  paused: '‖',
  accepted: '✓',
  rejected: '✗',
  'needs-more': '?',
  'not-checked': '?',
};

/** A state as a word with a sign beside it, so that colour is not needed to tell. */
export function State({ is }: { is: string }) {
  return (
    <span class={`state state-${is}`}>
      <span aria-hidden="true">{MARKS[is as keyof typeof MARKS] ?? '·'}</span> {is}
    </span>
  );
}
