// An image of what is drawn, in the dots of the device: canvases as they are, the rest over them.
import type { Drawn } from './drawn.ts';
import type { PictureFile } from './picture-file.ts';

/** Browsers refuse a canvas beyond some such width or height. */
const DOTS_MAX = 16_000;

export async function imageOf(
  drawn: readonly Drawn[],
  { svg, width, height, origin }: PictureFile,
  ground: string,
): Promise<Blob | undefined> {
  const dots = Math.min(Math.max(1, devicePixelRatio), DOTS_MAX / Math.max(width, height));
  const canvas = document.createElement('canvas');
  canvas.width = Math.round(width * dots);
  canvas.height = Math.round(height * dots);
  const context = canvas.getContext('2d');
  if (context === null) return undefined;
  context.scale(dots, dots);
  context.fillStyle = ground;
  context.fillRect(0, 0, width, height);
  for (const one of drawn) {
    if (one.kind !== 'canvas') continue;
    const { x, y, width: wide, height: high } = one.place;
    context.drawImage(one.element, x + origin.x, y + origin.y, wide, high);
  }
  const image = new Image();
  // The page's policy lets images come as data, and as nothing else of another place.
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  await image.decode();
  context.drawImage(image, 0, 0, width, height);
  return new Promise((resolve) => canvas.toBlob((blob) => resolve(blob ?? undefined), 'image/png'));
}
