/** One pin of a version mark: it stands at right angles to the strut and ends in a round tip. */
export interface MarkPin {
  /** From the strut's first node along its axis to the pin's axis. */
  atMm: number;
  direction: [number, number, number];
  /** From the strut's axis to the centre of the round tip. */
  reachMm: number;
  /** What the pin adds to the number; 0 for the long pin, from which one reads. */
  counts: number;
}

/** A comb of pins on one strut that says a number in binary: a pin that is there counts. */
export interface VersionMark {
  number: number;
  kind: 'pins';
  /** Strut of the unmarked graph, and its role. */
  strut: number;
  role: string;
  pinDiameterMm: number;
  /** How far a pin, and the long pin, stands out from the strut's surface. */
  pinLengthMm: number;
  longPinLengthMm: number;
  /** From one place to the next along the strut. */
  pitchMm: number;
  /** From the outside of the first pin to that of the last. */
  lengthMm: number;
  pins: MarkPin[];
  /** Smallest gap between a pin and any other strut; null where there is no other. */
  leastGapMm: number | null;
  extraVolumeMm3: number;
  extraMassG: number;
  /** Of the part and its mark. */
  markedMassG: number;
  imbalance: {
    /** How far the mark moves the centre of mass of the whole. */
    centreOfMassShiftMm: number;
    /** Distance of the marked part's centre of mass from the origin. */
    centreOfMassOffsetMm: number;
    /** Distance of the mark's own centre from the centre of mass of the unmarked part. */
    radiusMm: number;
    /** Mass times radius. */
    unbalanceGMm: number;
    /** Largest difference it makes between two halves, over all planes, in percent of the whole. */
    halfMassDifferencePct: number;
  };
  /** How to read it, in words. */
  reading: string;
  assumptions: string[];
}
