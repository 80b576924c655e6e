import { useEffect, useState } from 'preact/hooks';
import type { FieldError } from '../../openapi/index.ts';

export type Contract = typeof import('../../openapi/index.ts');

/** The schemas of the service, fetched when somebody first needs them. */
export async function contract(): Promise<Contract> {
  // the page runs no code made from text, which the schemas would try to
  (await import('zod')).config({ jitless: true });
  return import('../../openapi/index.ts');
}

/** A quarter of a second: shorter than a pause in typing. */
export const PAUSE_MS = 250;

/** What the service's own rules say of what is typed, a moment after it was; `of` holds all that `check` looks at. */
export function useRules(of: unknown, check: (rules: Contract) => FieldError[]): readonly FieldError[] {
  const [errors, setErrors] = useState<readonly FieldError[]>([]);
  useEffect(() => {
    let gone = false;
    const timer = setTimeout(async () => {
      const rules = await contract();
      if (!gone) setErrors(check(rules));
    }, PAUSE_MS);
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [JSON.stringify(of)]);
  return errors;
}
