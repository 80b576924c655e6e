/**
 * Letters of a legend, five columns of seven points each, bit 0 on top: the common fixed matrix of character displays. What is not here is left blank.
 */
const COLUMNS: Readonly<Record<string, readonly number[]>> = Object.fromEntries(
  `0 3e5149453e|1 00427f4000|2 4261514946|3 2141454b31|4 1814127f10|5 2745454539|6 3c4a494930|7 0171090503|8 3649494936|9 064949291e
A 7e1111117e|B 7f49494936|C 3e41414122|D 7f4141221c|E 7f49494941|F 7f09090901|G 3e41495a7a|H 7f0808087f|I 00417f4100|J 2040413f01
K 7f08142241|L 7f40404040|M 7f020c027f|N 7f0408107f|O 3e4141413e|P 7f09090906|Q 3e4151215e|R 7f09192946|S 4649494931|T 01017f0101
U 3f4040403f|V 1f2040201f|W 3f4038403f|X 6314081463|Y 0708700807|Z 6151494543|a 2054545478|b 7f48444438|c 3844444420|d 384444487f
e 3854545418|f 087e090102|g 0c5252523e|h 7f08040478|i 00447d4000|j 2040443d00|k 7f10284400|l 00417f4000|m 7c04180478|n 7c08040478
o 3844444438|p 7c14141408|q 081414187c|r 7c08040408|s 4854545420|t 043f444020|u 3c4040207c|v 1c2040201c|w 3c4030403c|x 4428102844
y 0c5050503c|z 4464544c44|- 0808080808|. 0060600000|% 2313086462|/ 2010080402|, 0050300000|: 0036360000|( 001c224100|) 0041221c00`
    .split(/[|\n]/)
    .map((entry) => [entry[0], (entry.slice(2).match(/../g) ?? []).map((hex) => Number.parseInt(hex, 16))]),
);

/** Points that a letter and the gap after it are wide, and high. */
export const LETTER = { wide: 6, high: 8 } as const;

/** Calls `dot` for every point of a line of text, right and down from its upper left corner. */
export function eachDot(text: string, dot: (x: number, y: number) => void): void {
  [...text].forEach((letter, k) =>
    COLUMNS[letter]?.forEach((column, x) => {
      for (let y = 0; y < 7; y++) if ((column >> y) & 1) dot(LETTER.wide * k + x, y);
    }),
  );
}
