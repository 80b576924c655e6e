/** What a force plate under the floor tells. */
export interface FloorGauge {
  /** Force at the last step, N. */
  readonly forceN: number;
  /** Mean over WINDOW_S up to the last step, N. */
  readonly meanForceN: number;
  /** The last step was the first without a force. */
  readonly lifted: boolean;
  /** From the start to the last step with a force. */
  readonly contactTimeS: number;
  /** Largest mean over WINDOW_S. */
  readonly peakForceN: number;
  record(step: number, forceN: number): void;
}

/** The mean that makes a peak force comparable between steps and with a measuring plate. */
const WINDOW_S = 5e-4;

export function floorGauge(stepS: number): FloorGauge {
  const window = new Float64Array(Math.max(1, Math.round(WINDOW_S / stepS)));
  let sum = 0;
  const gauge = {
    forceN: 0,
    meanForceN: 0,
    lifted: false,
    contactTimeS: 0,
    peakForceN: 0,
    record(step: number, forceN: number): void {
      const at = step % window.length;
      sum += forceN - window[at];
      window[at] = forceN;
      gauge.meanForceN = sum / window.length;
      if (gauge.meanForceN > gauge.peakForceN && Number.isFinite(sum)) gauge.peakForceN = gauge.meanForceN;
      gauge.lifted = forceN === 0 && gauge.forceN > 0;
      if (forceN > 0) gauge.contactTimeS = step * stepS;
      gauge.forceN = forceN;
    },
  };
  return gauge;
}
