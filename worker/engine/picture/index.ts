export { CAMERAS, type Camera, type ViewName } from './camera.ts';
export { cast, NOTHING, type Seen } from './cast.ts';
export { byMark, byRole, byScale } from './colourings.ts';
export { type Colour, cssColour, linearColour, MARKED, PLAIN, ROLE_COLOURS, scaleColour } from './colours.ts';
export { crc32 } from './crc.ts';
export { animation, contactSheet, extentOfAll, type Moment, momentPicture } from './moments.ts';
export { type Colouring, extentOf, type PictureOptions, picture } from './picture.ts';
export { png } from './png.ts';
