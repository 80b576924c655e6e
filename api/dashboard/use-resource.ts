import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import { ask, type Refused } from './client.ts';

export interface Resource<T> {
  data: T | null;
  /** Of the last try; the data of an earlier one is kept beside it. */
  error: Refused | null;
  /** When the data was last known to be so. */
  at: number | null;
  refresh(): void;
}

/** Whether work on a record goes on. */
export const isLive = ({ status }: { status?: string }): boolean => status === 'queued' || status === 'running';

/** How many have ended, to two digits while more go on: what is computed of them all is looked at again when there are a few per cent more. */
export const roughly = (count: number, more: boolean): number => (more ? Number(count.toPrecision(2)) : count);

const SLOWEST_MS = 15_000;
/** What the service takes long for is asked for less often: it is to spend at most a tenth of its time on an answer that nobody waits for. */
const PAUSES_PER_ANSWER = 10;

/**
 * Keeps an eye on a resource: asks with its ETag, again after `everyMs` or more while `isLive` says that it may change; after a failure ever more slowly,
 * for as long as it takes; and at once where `again` changes. Hidden pages do not ask.
 */
export function useResource<T>(
  url: string | null,
  { everyMs = 1000, isLive: mayChange = () => false, again }: { everyMs?: number; isLive?: (data: T) => boolean; again?: unknown } = {},
): Resource<T> {
  const [state, setState] = useState<{ url: string | null; data: T | null; error: Refused | null; at: number | null }>({
    url,
    data: null,
    error: null,
    at: null,
  });
  const live = useRef(mayChange);
  live.current = mayChange;
  const [turn, setTurn] = useState(0);
  const refresh = useCallback(() => setTurn((k) => k + 1), []);

  useEffect(() => {
    if (url === null) return;
    const stopped = new AbortController();
    let timer: ReturnType<typeof setTimeout> | undefined;
    let [etag, failures] = ['', 0];
    let data: T | null = null;
    const look = async () => {
      if (document.hidden) {
        timer = setTimeout(look, everyMs);
        return;
      }
      const began = performance.now();
      try {
        const got = await ask<T>(url, { etag, signal: stopped.signal });
        [etag, failures] = [got.etag, 0];
        data = got.body ?? data;
        setState({ url, data, error: null, at: Date.now() });
        const pauseMs = Math.max(everyMs, PAUSES_PER_ANSWER * (performance.now() - began));
        if (data !== null && live.current(data)) timer = setTimeout(look, Math.min(SLOWEST_MS, pauseMs));
      } catch (error) {
        if (stopped.signal.aborted) return;
        failures++;
        setState((before) => ({ ...before, url, data: before.url === url ? before.data : null, error: error as Refused }));
        const { status } = error as Refused;
        if (status === 0 || status === 503 || status === 429) timer = setTimeout(look, Math.min(SLOWEST_MS, everyMs * 2 ** failures));
      }
    };
    void look();
    return () => {
      stopped.abort();
      clearTimeout(timer);
    };
  }, [url, everyMs, turn, again]);

  const own = state.url === url;
  return { data: own ? state.data : null, error: own ? state.error : null, at: own ? state.at : null, refresh };
}
