// A pen that writes a drawing down as SVG: as much of a canvas as draw.js uses.
const escaped = text => text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/"/g, '&quot;');
const round = value => Math.round(value * 10) / 10;

export class SvgPen {
  constructor(width, height, title, ground) {
    this.parts = [`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img"><title>${escaped(title)}</title><rect width="${width}" height="${height}" fill="${ground}"/>`];
    this.path = [];
    this.dash = [];
    this.clips = 0;
    this.open = [];
    Object.assign(this, { strokeStyle: '#000', fillStyle: '#000', lineWidth: 1, globalAlpha: 1, font: '', textAlign: 'left', textBaseline: 'middle' });
  }

  save() { this.open.push(0); }
  restore() { for (let count = this.open.pop(); count > 0; count--) this.parts.push('</g>'); }
  beginPath() { this.path = []; }
  closePath() { this.path.push('Z'); }
  moveTo(x, y) { this.path.push(`M${round(x)} ${round(y)}`); }
  lineTo(x, y) { this.path.push(`${this.path.length ? 'L' : 'M'}${round(x)} ${round(y)}`); }
  rect(x, y, width, height) { this.path.push(`M${round(x)} ${round(y)}h${round(width)}v${round(height)}h${round(-width)}Z`); }
  arc(x, y, size) { this.path.push(`M${round(x - size)} ${round(y)}a${size} ${size} 0 1 0 ${2 * size} 0a${size} ${size} 0 1 0 ${-2 * size} 0`); }
  setLineDash(dash) { this.dash = dash; }

  clip() {
    const id = `clip${++this.clips}`;
    this.parts.push(`<clipPath id="${id}"><path d="${this.path.join('')}"/></clipPath><g clip-path="url(#${id})">`);
    this.open[this.open.length - 1]++;
  }

  stroke() {
    const dash = this.dash.length ? ` stroke-dasharray="${this.dash.join(' ')}"` : '';
    this.parts.push(`<path d="${this.path.join('')}" fill="none" stroke="${this.strokeStyle}" stroke-width="${this.lineWidth}"${dash}/>`);
  }

  fill() {
    const alpha = this.globalAlpha < 1 ? ` fill-opacity="${this.globalAlpha}"` : '';
    this.parts.push(`<path d="${this.path.join('')}" fill="${this.fillStyle}"${alpha}/>`);
  }

  fillText(text, x, y) {
    const anchor = { left: 'start', right: 'end', center: 'middle' }[this.textAlign];
    const lower = this.textBaseline === 'top' ? 11 : this.textBaseline === 'middle' ? 4 : 0;
    this.parts.push(`<text x="${round(x)}" y="${round(y + lower)}" text-anchor="${anchor}" font-family="sans-serif" font-size="13" fill="${this.fillStyle}">${escaped(text)}</text>`);
  }

  axes(area, plot, toX, toY, colours) {
    const [times, values] = plot.axes;
    this.fillStyle = colours.ink;
    this.strokeStyle = colours.hair;
    this.lineWidth = 1;
    this.textAlign = 'center';
    times._splits?.forEach((time, index) => this.tick(toX(time), area.top, toX(time), area.top + area.height, times._values[index] ?? '', toX(time), area.top + area.height + 16));
    this.textAlign = 'right';
    values._splits?.forEach((value, index) => this.tick(area.left, toY(value), area.left + area.width, toY(value), values._values[index] ?? '', area.left - 6, toY(value)));
  }

  tick(fromX, fromY, toX, toY, text, x, y) {
    this.beginPath();
    this.moveTo(fromX, fromY);
    this.lineTo(toX, toY);
    this.stroke();
    this.fillText(String(text), x, y);
  }

  text() { return `${this.parts.join('\n')}\n</svg>\n`; }
}
