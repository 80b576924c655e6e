import type { Answer } from '../openapi/index.ts';
import { Refusal } from './refusal.ts';

/** Refuses with 406 when the Accept header leaves no room for the answer's media type. A file's own type is known only once it is read. */
export function refuseUnacceptable(accept: string | undefined, answer: Answer): void {
  const mediaType = answer.mediaType ?? 'application/json';
  if (accept === undefined || mediaType === 'application/octet-stream') return;
  const [kind] = mediaType.split('/');
  const ranges = accept.split(',').map((each) => each.trim().toLowerCase());
  const accepted = ranges.some((range) => {
    const [name, ...parameters] = range.split(';').map((each) => each.trim());
    return !parameters.some((each) => /^q=0(\.0*)?$/.test(each)) && (name === '*/*' || name === `${kind}/*` || name === mediaType);
  });
  if (!accepted)
    throw new Refusal('not-acceptable', { detail: `The answer is ${mediaType}; the Accept header allows ${accept.slice(0, 200)}` });
}
