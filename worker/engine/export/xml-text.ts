/** Finest step of a written length, mm: well above the engine's rounding, well below what any printer resolves. */
export const STEP_MM = 1e-6;
const DECIMALS = 6;

/**
 * A length in plain decimals, rounded to STEP_MM: ST_Number of the 3MF Core Specification 1.3 without sign for zero, trailing zeros or exponent.
 * For finite numbers below 1e15.
 */
export function decimal(value: number): string {
  const text = value.toFixed(DECIMALS).replace(/\.?0+$/, '');
  return text === '-0' ? '0' : text;
}

/** A radius: as `decimal`, but never 0 (ST_PositiveNumber). */
export const positiveDecimal = (value: number): string => decimal(Math.max(STEP_MM, value));

const REFERENCE: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' };
const NO_XML_CHARACTER = /[^\t\n\r\u0020-\uD7FF\uE000-\uFFFD\u{10000}-\u{10FFFF}]/gu;

/** Text for an element or a quoted attribute; what XML 1.0 has no character for (section 2.2, Char) becomes U+FFFD. */
export const escaped = (text: string): string => text.replace(NO_XML_CHARACTER, '\uFFFD').replace(/[&<>"]/g, (mark) => REFERENCE[mark]);
