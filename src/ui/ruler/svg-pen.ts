import { FILE_MARGIN, FONT, FONT_PX, hatchLines, type LineStyle, type Pen, type Place, type TextStyle } from './pen.ts';

/** Draws into the text of an SVG file. */
export class SvgPen implements Pen {
  #body = '';
  #clips = 0;

  fill(place: Place, colour: string, radius = 0): void {
    this.#body += `<rect ${placed(place)} rx="${radius}" fill="${colour}"/>\n`;
  }

  outline(place: Place, style: LineStyle): void {
    this.#body += `<rect ${placed(place)} fill="none" ${stroked(style)}/>\n`;
  }

  hatch(place: Place, style: LineStyle): void {
    const lines = hatchLines(place).map(
      ([x1, y1, x2, y2]) => `M${short(x1!)} ${short(y1!)}L${short(x2!)} ${short(y2!)}`,
    );
    this.within(place, () => {
      this.#body += `<path d="${lines.join('')}" fill="none" ${stroked(style)}/>\n`;
    });
  }

  line(points: ArrayLike<number>, style: LineStyle): void {
    if (points.length > 0) this.#body += `<path d="${traced(points)}" fill="none" ${stroked(style)}/>\n`;
  }

  shape(points: ArrayLike<number>, colour: string, rim: number): void {
    if (points.length === 0) return;
    this.#body += `<path d="${traced(points)}Z" fill="${colour}" ${stroked({ colour, width: rim })}/>\n`;
  }

  text(x: number, y: number, text: string, { colour, anchor = 'start', isStrong, isItalic }: TextStyle): void {
    const weight = isStrong === true ? ' font-weight="600"' : '';
    const slant = isItalic === true ? ' font-style="italic"' : '';
    const place = `x="${short(x)}" y="${short(y)}" text-anchor="${anchor}"`;
    this.#body += `<text ${place} fill="${colour}"${weight}${slant}>${escaped(text)}</text>\n`;
  }

  within(place: Place, draw: () => void): void {
    const id = `part-${this.#clips++}`;
    this.#body += `<clipPath id="${id}"><rect ${placed(place)}/></clipPath>\n<g clip-path="url(#${id})">\n`;
    draw();
    this.#body += '</g>\n';
  }

  /** The file, with a title for those who do not see it; on a ground with a margin, where its colour is given. */
  file(width: number, height: number, title: string, ground?: string): string {
    const margin = ground === undefined ? 0 : FILE_MARGIN;
    const sheet = { x: -margin, y: -margin, width: width + 2 * margin, height: height + 2 * margin };
    const view = `viewBox="${sheet.x} ${sheet.y} ${sheet.width} ${sheet.height}"`;
    const size = `width="${sheet.width}" height="${sheet.height}" ${view}`;
    const font = `font-family="${FONT}" font-size="${FONT_PX}"`;
    const head = `<svg xmlns="http://www.w3.org/2000/svg" ${size} ${font} role="img">\n<title>${escaped(title)}</title>\n`;
    const below = ground === undefined ? '' : `<rect ${placed(sheet)} fill="${ground}"/>\n`;
    return `${head}${below}${this.#body}</svg>\n`;
  }
}

const short = (value: number): string => String(Number(value.toFixed(2)));

const placed = ({ x, y, width, height }: Place): string =>
  `x="${short(x)}" y="${short(y)}" width="${short(width)}" height="${short(height)}"`;

function stroked({ colour, width = 1, dash = [] }: LineStyle): string {
  const dashes = dash.length === 0 ? '' : ` stroke-dasharray="${dash.join(' ')}"`;
  return `stroke="${colour}" stroke-width="${width}" stroke-linejoin="round"${dashes}`;
}

function traced(points: ArrayLike<number>): string {
  let path = '';
  for (let i = 0; i < points.length; i += 2)
    path += `${i === 0 ? 'M' : 'L'}${short(points[i]!)} ${short(points[i + 1]!)}`;
  return path;
}

const escaped = (text: string): string =>
  text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
