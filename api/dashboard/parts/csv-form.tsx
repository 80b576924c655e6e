import { useState } from 'preact/hooks';
import { ask, fetched, type Refused } from '../client.ts';
import { Problem } from './shown.tsx';

interface Report {
  rows: number;
  created: number;
  dryRun: boolean;
  outliers: number;
}

/** A file of measurements: checked first, then kept; every bad row is told, and of a bad file nothing is kept. */
export function CsvForm({ onDone }: { onDone: () => void }) {
  const [text, setText] = useState<string | null>(null);
  const [report, setReport] = useState<Report | null>(null);
  const [error, setError] = useState<Refused | null>(null);
  const send = async (dryRun: boolean) => {
    setReport(null);
    setError(null);
    try {
      const { body } = await ask<Report>(`/v1/measurements/import?dryRun=${dryRun}`, { method: 'POST', csv: text! });
      setReport(body);
      if (!dryRun) onDone();
    } catch (refused) {
      setError(refused as Refused);
    }
  };
  const chosen = async (event: Event) => {
    setReport(null);
    setError(null);
    setText((await (event.currentTarget as HTMLInputElement).files?.[0]?.text()) ?? null);
  };
  const template = async () => {
    const link = Object.assign(document.createElement('a'), {
      href: URL.createObjectURL(await fetched('/v1/measurements/template.csv')),
      download: 'measurements.csv',
    });
    link.click();
    URL.revokeObjectURL(link.href);
  };
  return (
    <section class="card stack">
      <h2>Enter a file of measurements</h2>
      <div>
        <button type="button" onClick={() => template().catch(setError)}>
          A file to fill in
        </button>
      </div>
      <label>
        CSV file
        <input type="file" accept=".csv,text/csv" onChange={chosen} />
      </label>
      <div class="row">
        <button type="button" disabled={text === null} onClick={() => send(true)}>
          Check it
        </button>
        <button type="button" class="main" disabled={text === null} onClick={() => send(false)}>
          Keep it
        </button>
      </div>
      {error && <Problem error={error} />}
      <p role="status">
        {report &&
          `Good rows: ${report.rows}; ${report.dryRun ? 'nothing is kept yet' : `measurements kept: ${report.created}`}${
            report.outliers > 0 ? `; readings flagged as outliers: ${report.outliers}` : ''
          }.`}
      </p>
    </section>
  );
}
