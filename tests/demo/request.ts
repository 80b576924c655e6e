import { setTimeout as pause } from 'node:timers/promises';

const MOST_TRIES = 6;

/**
 * A fetch that does what a refusal for want of time asks for: answers 429 and 503 with a Retry-After (in seconds) are asked again after that
 * time, at most MOST_TRIES times in all. Rejects with a sentence when nobody answers, and at once when `signal` is aborted.
 */
export const patientFetch = (signal: AbortSignal) => async (input: Parameters<typeof fetch>[0]) => {
  const request = new Request(input);
  for (let tries = 1; ; tries++) {
    const response = await send(request.clone(), signal);
    const seconds = Number(response.headers.get('retry-after') ?? Number.NaN);
    if (![429, 503].includes(response.status) || !(seconds >= 0) || tries === MOST_TRIES) return response;
    await pause(1000 * seconds, undefined, { signal });
  }
};

const send = (request: Request, signal: AbortSignal): Promise<Response> =>
  fetch(request, { signal }).catch((cause: unknown) => {
    throw signal.aborted ? cause : new Error(`The service at ${new URL(request.url).origin} does not answer`, { cause });
  });
