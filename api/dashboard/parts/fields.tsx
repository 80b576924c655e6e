import type { ComponentChildren } from 'preact';
import { useId } from 'preact/hooks';
import type { Typed } from '../varied.ts';

interface Field {
  name: string;
  unit?: string;
  /** Why what is typed is not allowed. */
  fault?: string;
}

/** A field with its unit, and below it what is wrong with it. */
function Labelled({ name, unit = '', fault, id, children }: Field & { id: string; children: ComponentChildren }) {
  return (
    // biome-ignore lint/a11y/noLabelWithoutControl: the control is among the children
    <label>
      <span>
        {name} {unit && <span class="unit">{unit}</span>}
      </span>
      {children}
      {fault && (
        <span class="fault" id={id}>
          {fault}
        </span>
      )}
    </label>
  );
}

/** A number with a point or a comma; what is no number stays as it is typed, for the rules to refuse. */
export function NumberField({ value, onChange, ...field }: Field & { value: unknown; onChange: (value: Typed) => void }) {
  const id = useId();
  return (
    <Labelled {...field} id={id}>
      <input
        inputMode="decimal"
        value={value === undefined ? '' : String(value)}
        aria-invalid={field.fault !== undefined}
        aria-describedby={field.fault ? id : undefined}
        onInput={(event) => {
          const text = event.currentTarget.value.trim().replace(',', '.');
          onChange(text === '' ? undefined : Number.isNaN(Number(text)) ? text : Number(text));
        }}
      />
    </Labelled>
  );
}

export function TextField({ value, onChange, ...field }: Field & { value: string; onChange: (value: string) => void }) {
  const id = useId();
  return (
    <Labelled {...field} id={id}>
      <input
        value={value}
        autocomplete="off"
        aria-invalid={field.fault !== undefined}
        aria-describedby={field.fault ? id : undefined}
        onInput={(event) => onChange(event.currentTarget.value)}
      />
    </Labelled>
  );
}

/** What is wrong and stands at no field of the form. */
export function Elsewhere({ errors }: { errors: readonly { pointer: string; detail: string }[] }) {
  if (errors.length === 0) return null;
  return (
    <ul class="fault">
      {errors.map(({ pointer, detail }) => (
        <li key={pointer + detail}>
          <code>{pointer || '/'}</code> {detail}
        </li>
      ))}
    </ul>
  );
}
