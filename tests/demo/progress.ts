export interface Progress {
  /** Shows how far the work called `label` is, by the name of its stage. */
  show(stage: string, pct: number): void;
  /** Leaves the terminal as it was; plain lines stay. */
  end(): void;
}

const CELLS = 32;
const CLEAR_LINE = '\r\x1b[K';

/** A bar that is drawn over itself on a terminal; elsewhere one plain line a stage. */
export function openProgress(stream: NodeJS.WriteStream, label: string): Progress {
  let stageBefore = '';
  return {
    show: (stage, pct) => {
      if (stream.isTTY) stream.write(`${CLEAR_LINE}  ${bar(pct)} ${String(Math.round(pct)).padStart(3)} %  ${label}: ${stage}`);
      else if (stage !== stageBefore) stream.write(`  ${label}: ${stage}, ${Math.round(pct)} %\n`);
      stageBefore = stage;
    },
    end: () => void (stream.isTTY && stream.write(CLEAR_LINE)),
  };
}

function bar(pct: number): string {
  const full = Math.round((CELLS * pct) / 100);
  return '█'.repeat(full) + '░'.repeat(CELLS - full);
}

/** For what goes on beside something else that is shown. */
export const silent: Progress = { show: () => {}, end: () => {} };
