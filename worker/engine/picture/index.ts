export { type Colour, cssColour, linearColour, MARKED, PLAIN, ROLE_COLOURS, scaleColour } from './colours.ts';
