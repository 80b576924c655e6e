export interface Warning {
  code: string;
  message: string;
}

/** What every result says to those who print, handle and use the object. Common practice; local codes and licensed practice come first. */
export const CAUTIONS: readonly Warning[] = [
  {
    code: 'caution-impact',
    message:
      'Mass and size do not make an object safe: one that is harder than its original hurts more. Have peak force compared at the same speed before anyone is hit by it, and follow the rules of the body concerned.',
  },
  {
    code: 'caution-children',
    message:
      'Cells can trap fingers and broken struts are small parts and sharp. Inspect before each use, keep from children under three, and have it tested to the toy and play-equipment standards that apply locally.',
  },
  {
    code: 'caution-powder',
    message:
      'Fine polymer powder can explode in air and irritates eyes and lungs; part cakes stay hot for hours and sintering lasers are class 4 inside their housing. Trained staff, extraction, earthing and the local rules apply. Clean until no powder is lost on tapping.',
  },
];
