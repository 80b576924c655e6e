import type { FieldError } from '../../../openapi/index.ts';
import { isChosen, pathsOf, type Varied, variedAt } from '../varied.ts';
import { Choice } from './choices.tsx';
import { NumberField, TextField } from './fields.tsx';

/** What the fields of a row are called where it is posted; '' for one that is not asked for. */
export interface RowNames {
  low: string;
  high: string;
  step: string;
}

interface RowsProps {
  /** The parameter set that is varied. */
  set: object;
  rows: readonly Varied[];
  names: RowNames;
  /** Of the step. */
  stepName: string;
  /** Pointers begin with `at`, then the number of the row. */
  errors: readonly FieldError[];
  at: string;
  onChange: (rows: Varied[]) => void;
}

/** The parameters of a set that may change, and over what. */
export function VariedRows({ set, rows, errors, at, onChange, ...words }: RowsProps) {
  const paths = pathsOf(set);
  const unused = paths.find((path) => rows.every((row) => row.path !== path));
  const change = (k: number, row: Varied) => onChange(rows.map((each, i) => (i === k ? row : each)));
  return (
    <>
      {rows.map((row, k) => (
        <fieldset key={k}>
          <legend>Parameter {k + 1}</legend>
          <Row
            {...{ row, paths, ...words }}
            faultAt={(name) => errors.find(({ pointer }) => pointer === `${at}/${k}/${name}`)?.detail}
            onPath={(path) => change(k, variedAt(set, path))}
            onChange={(row) => change(k, row)}
          />
          {rows.length > 1 && (
            <div>
              <button type="button" class="small" onClick={() => onChange(rows.filter((_, i) => i !== k))}>
                Leave it as it is
              </button>
            </div>
          )}
        </fieldset>
      ))}
      <div>
        <button type="button" disabled={!unused} onClick={() => onChange([...rows, variedAt(set, unused!)])}>
          One parameter more
        </button>
      </div>
    </>
  );
}

interface RowProps {
  row: Varied;
  paths: readonly string[];
  names: RowNames;
  stepName: string;
  faultAt: (name: string) => string | undefined;
  onPath: (path: string) => void;
  onChange: (row: Varied) => void;
}

function Row({ row, paths, names, stepName, faultAt, onPath, onChange }: RowProps) {
  const number = (field: 'low' | 'high' | 'step', name: string) =>
    names[field] && (
      <NumberField
        name={name}
        value={row[field]}
        fault={faultAt(names[field])}
        onChange={(value) => onChange({ ...row, [field]: value })}
      />
    );
  return (
    <>
      <Choice name="parameter" value={row.path} of={paths} onChange={onPath} />
      {faultAt('path') && <span class="fault">{faultAt('path')}</span>}
      {isChosen(row.path) ? (
        <TextField
          name={row.path === 'tiling' ? 'cells m,n with spaces between' : 'choices, with spaces between'}
          value={row.choices}
          fault={faultAt('choices')}
          onChange={(choices) => onChange({ ...row, choices })}
        />
      ) : (
        <>
          {number('low', 'from')}
          {number('high', 'to')}
          {number('step', stepName)}
        </>
      )}
    </>
  );
}

/** What is wrong with no row's field. */
export const besideRows = (errors: readonly FieldError[], at: string): FieldError[] =>
  errors.filter(({ pointer }) => !new RegExp(`^${at}/\\d+/(?:path|from|to|steps|min|max|step|choices)$`).test(pointer));
