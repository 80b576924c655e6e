import { useEffect, useState } from 'preact/hooks';
import type { ParameterSetInput } from '../../openapi/index.ts';
import type { Preview } from '../../worker/engine/index.ts';
import type { Answer } from './client.ts';
import { contract, PAUSE_MS } from './contract.ts';
import { useResource } from './use-resource.ts';

/** What the service's own rules say of a set, and, where they allow it, how it looks and what it weighs. */
export function useChecked(set: ParameterSetInput, material: string) {
  const [checked, setChecked] = useState<{ errors: { pointer: string; detail: string }[]; preview: Preview | null }>({
    errors: [],
    preview: null,
  });
  const record = useResource<Answer<'/v1/materials/{key}'>>(`/v1/materials/${material}`);
  const densityGCm3 = record.data?.densityGCm3 ?? 1;
  useEffect(() => {
    let gone = false;
    const timer = setTimeout(async () => {
      const { parameterSet, settle, validate } = await contract();
      const found = validate(parameterSet, set);
      if (gone) return;
      if (!found.ok) return setChecked((before) => ({ errors: found.errors, preview: before.preview }));
      setChecked((before) => ({ errors: [], preview: before.preview }));
      const { previewOf } = await import('../../worker/engine/index.ts');
      const preview = previewOf(settle(found.value), densityGCm3);
      if (!gone) setChecked({ errors: [], preview });
    }, PAUSE_MS);
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [set, densityGCm3]);
  return checked;
}
