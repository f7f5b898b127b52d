import { initWasm, Resvg } from '@resvg/resvg-wasm';
import { shippedFile } from '../../files/shipped-file.js';

const WIDTH_PX = 1520;
const FONTS = ['DejaVuSans.ttf', 'DejaVuSans-Bold.ttf'] as const;

/** A drawing as PNG, light, with the font that comes with the program: the same picture on every machine. */
export async function pngOf(svg: string): Promise<Uint8Array> {
  const [wasm, ...fontBuffers] = await Promise.all(['resvg.wasm', ...FONTS].map(shippedFile));
  await initWasm(wasm!);
  const renderer = new Resvg(svg, {
    fitTo: { mode: 'width', value: WIDTH_PX },
    font: { fontBuffers, defaultFontFamily: 'DejaVu Sans', sansSerifFamily: 'DejaVu Sans' },
  });
  const picture = renderer.render();
  try {
    return picture.asPng();
  } finally {
    picture.free();
    renderer.free();
  }
}
