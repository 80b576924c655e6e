export { CAMERAS, type Camera, type ViewName } from './camera.ts';
export { cast, NOTHING, type Seen } from './cast.ts';
export { byMark, byRole, byScale } from './colourings.ts';
export { type Colour, cssColour, linearColour, MARKED, PLAIN, ROLE_COLOURS, scaleColour } from './colours.ts';
export { type Colouring, contactSheet, extentOf, type LegendEntry, type PictureOptions, picture } from './picture.ts';
export { png } from './png.ts';
