// A chart of columns over time: the library carries axes, scales and cursor, draw.js draws the values, and the host gives as many of them as there are pixels.
import uPlot from '../lib/uplot/uPlot.esm.js';
import { read, range, scaleOf, digits, marked, dayText, clockText } from './data.js';
import { save } from './save.js';
import { draw } from './draw.js';
import { SvgPen } from './svg.js';

const standings = ['measured', 'mended', 'modelled', 'lost'];
const groups = new Map();
const shortest = 20;

export function create(place, readout, dotnet, options) {
  return new Chart(place, readout, dotnet, options);
}

class Chart {
  constructor(place, readout, dotnet, options) {
    Object.assign(this, { place, readout, dotnet, options, marks: options.marks ?? [], bands: options.bands ?? [] });
    this.group = groups.get(options.group) ?? { charts: new Set() };
    groups.set(options.group, this.group);
    this.group.charts.add(this);
    this.onKey = event => this.key(event);
    this.onWheel = event => this.wheel(event);
    this.onTheme = () => { this.colours = null; this.plot?.redraw(false); };
    place.addEventListener('keydown', this.onKey);
    place.addEventListener('wheel', this.onWheel, { passive: false });
    this.theme = matchMedia('(prefers-color-scheme: dark)');
    this.theme.addEventListener('change', this.onTheme);
    this.observer = new ResizeObserver(() => this.resize());
    this.observer.observe(place);
  }

  setData(bytes) {
    this.frame = read(bytes);
    this.scale = scaleOf(this.frame);
    const { frame } = this;
    const data = [frame.times, ...frame.columns.map(column => column.mean)];
    const span = this.group.span ?? { from: frame.from, to: frame.to };
    if (this.plot && this.plot.series.length === data.length) {
      this.plot.setData(data, false);
      this.plot.setScale('x', { min: span.from, max: span.to });
    } else {
      this.plot?.destroy();
      this.plot = new uPlot(this.plotOptions(data.length, span), data, this.place);
    }
    this.place.dataset.from = span.from;
    this.place.dataset.to = span.to;
    this.place.dataset.count = frame.times.length;
  }

  // For a button: share of the span to move by, and the factor to zoom by about its middle.
  move(share, factor) {
    if (!this.frame) return;
    const { from, to } = this.group.span ?? this.frame;
    if (factor === 0) return this.show(this.frame.wholeFrom, this.frame.wholeTo);
    const length = (to - from) * factor, middle = (from + to) / 2 + share * (to - from);
    this.show(middle - length / 2, middle + length / 2);
  }

  show(from, to) {
    const { wholeFrom, wholeTo } = this.frame;
    const length = Math.min(Math.max(to - from, shortest), wholeTo - wholeFrom);
    from = Math.min(Math.max(from + (to - from - length) / 2, wholeFrom), wholeTo - length);
    to = from + length;
    const { span } = this.group;
    if (span && span.from === from && span.to === to) return;
    this.group.span = { from, to };
    for (const chart of this.group.charts) chart.follow(from, to);
  }

  follow(from, to) {
    if (!this.plot) return;
    this.plot.setScale('x', { min: from, max: to });
    this.place.dataset.from = from;
    this.place.dataset.to = to;
    clearTimeout(this.asking);
    this.asking = setTimeout(() => this.dotnet.invokeMethodAsync('ShowAsync', from, to), 25);
  }

  key(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || !this.plot) return;
    const sign = event.key === 'ArrowRight' ? 1 : event.key === 'ArrowLeft' ? -1 : 0;
    if (sign && event.shiftKey) this.step(sign);
    else if (sign) this.move(0.2 * sign, 1);
    else if (event.key === '+' || event.key === '=') this.move(0, 0.5);
    else if (event.key === '-' || event.key === '_') this.move(0, 2);
    else if (event.key === '0') this.move(0, 0);
    else return;
    event.preventDefault();
  }

  // The cursor by keyboard, value by value; what it meets is read out.
  step(sign) {
    const { times } = this.frame;
    const { from, to } = this.group.span ?? this.frame;
    const at = this.plot.cursor.idx ?? times.findIndex(time => time >= (from + to) / 2);
    const index = Math.min(Math.max(at + sign, 0), times.length - 1);
    this.plot.setCursor({ left: this.plot.valToPos(times[index], 'x'), top: 10 });
    this.readout.setAttribute('aria-live', 'polite');
  }

  wheel(event) {
    // The page goes on scrolling under a pointer that only passes by.
    if (!this.plot || !(event.ctrlKey || this.place.contains(document.activeElement))) return;
    event.preventDefault();
    const { from, to } = this.group.span ?? this.frame;
    const box = this.plot.over.getBoundingClientRect();
    const at = from + (to - from) * Math.min(Math.max((event.clientX - box.left) / box.width, 0), 1);
    const factor = event.deltaY > 0 ? 1.4 : 1 / 1.4;
    this.show(at - (at - from) * factor, at + (to - at) * factor);
  }

  select(plot) {
    if (!(plot.select.width > 4)) return;
    const from = plot.posToVal(plot.select.left, 'x'), to = plot.posToVal(plot.select.left + plot.select.width, 'x');
    plot.setSelect({ left: 0, width: 0, top: 0, height: 0 }, false);
    this.show(from, to);
  }

  cursorMoved(plot) {
    const index = plot.cursor.idx;
    if (index === null || index === undefined) return;
    const { frame } = this;
    const time = frame.times[index];
    const mark = this.options.decimalMark;
    const words = [`${dayText(time)} ${clockText(time, frame.step)}`.trim()];
    frame.columns.forEach((column, at) => {
      const look = this.options.looks[at];
      const value = column.mean[index];
      if (Number.isNaN(value)) return void words.push(`${look.name}: nothing`);
      const { factor, unit } = column.unit === frame.columns[0].unit ? this.scale : { factor: 1, unit: column.unit };
      const spread = column.high[index] - column.low[index] > 1e-6 * Math.abs(value) ? ` (${digits(column.low[index] / factor, mark)} to ${digits(column.high[index] / factor, mark)})` : '';
      const told = column.standing[index] > 0 ? `, ${standings[column.standing[index]]}` : '';
      words.push(`${look.name} ${digits(value / factor, mark)} ${unit}${spread}${told}`);
    });
    this.readout.textContent = words.join(' · ');
    if (!this.options.tellsCursor || this.told === time) return;
    this.told = time;
    clearTimeout(this.telling);
    this.telling = setTimeout(() => this.dotnet.invokeMethodAsync('PointAsync', time), 60);
  }

  plotOptions(count, span) {
    const line = { stroke: () => this.theColours().ink, grid: { stroke: () => this.theColours().hair, width: 1 }, ticks: { show: false }, font: '500 13px "Barlow Semi Condensed", "Arial Narrow", sans-serif' };
    return {
      width: Math.max(this.place.clientWidth, 120),
      height: this.options.height,
      ms: 1,
      tzDate: time => uPlot.tzDate(new Date(time), 'Etc/UTC'),
      legend: { show: false },
      padding: [24, 54, 0, 0],
      cursor: {
        y: false,
        points: { show: false },
        drag: { x: true, y: false, setScale: false },
        sync: { key: this.options.group, setSeries: false },
        bind: { dblclick: () => () => this.move(0, 0) },
      },
      scales: {
        x: { time: true, range: () => [this.group.span?.from ?? span.from, this.group.span?.to ?? span.to] },
        y: { range: plot => range(this.frame, plot.scales.x.min ?? span.from, plot.scales.x.max ?? span.to, this.options.holdsZero) },
      },
      axes: [
        { ...line, size: 30, space: 76, values: (_, splits, __, ___, step) => splits.map(time => (step >= 86400e3 || time % 86400e3 === 0) && dayText(time) || clockText(time, step)) },
        { ...line, size: 58, space: 28, values: (_, splits) => this.valueTexts(splits) },
      ],
      series: [{}, ...Array.from({ length: count - 1 }, () => ({ paths: () => null, points: { show: false } }))],
      hooks: {
        draw: [plot => this.draw(plot)],
        setSelect: [plot => this.select(plot)],
        setCursor: [plot => this.cursorMoved(plot)],
      },
    };
  }

  valueTexts(splits) {
    const { factor, unit } = this.scale;
    const step = splits.length > 1 ? Math.abs(splits[1] - splits[0]) / factor : 1;
    const places = Math.max(0, Math.min(4, Math.ceil(-Math.log10(step) - 1e-9)));
    this.unit = unit;
    return splits.map(value => marked((value / factor).toFixed(places), this.options.decimalMark));
  }

  draw(plot) {
    draw(plot.ctx, plot.bbox, this.frame, this.options.looks, this.theColours(), devicePixelRatio,
      time => plot.valToPos(time, 'x', true), value => plot.valToPos(value, 'y', true), this);
  }

  theColours() {
    if (this.colours) return this.colours;
    const style = getComputedStyle(this.place);
    const of = name => style.getPropertyValue(name).trim();
    this.colours = {
      lines: [1, 2, 3, 4, 5].map(number => of(`--line-${number}`)),
      ink: of('--ink'), hair: of('--hair'), hatch: of('--line'), faint: of('--ink-soft'), mark: of('--copper'), band: of('--band'),
      font: `700 ${13 * devicePixelRatio}px "Barlow Semi Condensed", "Arial Narrow", sans-serif`,
    };
    return this.colours;
  }

  resize() {
    const width = this.place.clientWidth;
    if (this.plot && width > 0 && Math.abs(width - this.plot.width) > 1) {
      this.colours = null;
      this.plot.setSize({ width, height: this.options.height });
    }
  }

  savePng(fileName) {
    const canvas = this.plot.ctx.canvas;
    const sheet = document.createElement('canvas');
    [sheet.width, sheet.height] = [canvas.width, canvas.height];
    const pen = sheet.getContext('2d');
    pen.fillStyle = getComputedStyle(this.place).getPropertyValue('--surface');
    pen.fillRect(0, 0, sheet.width, sheet.height);
    pen.drawImage(canvas, 0, 0);
    sheet.toBlob(blob => save(blob, fileName), 'image/png');
  }

  saveSvg(fileName, title) {
    const { plot } = this;
    const pen = new SvgPen(plot.width, plot.height, title, getComputedStyle(this.place).getPropertyValue('--surface'));
    const area = { left: plot.bbox.left / devicePixelRatio, top: plot.bbox.top / devicePixelRatio, width: plot.bbox.width / devicePixelRatio, height: plot.bbox.height / devicePixelRatio };
    const toX = time => area.left + plot.valToPos(time, 'x'), toY = value => area.top + plot.valToPos(value, 'y');
    const colours = { ...this.theColours(), font: '700 13px sans-serif' };
    pen.axes(area, plot, toX, toY, colours);
    draw(pen, area, this.frame, this.options.looks, colours, 1, toX, toY, this);
    save(new Blob([pen.text()], { type: 'image/svg+xml' }), fileName);
  }

  dispose() {
    clearTimeout(this.asking);
    clearTimeout(this.telling);
    this.observer.disconnect();
    this.theme.removeEventListener('change', this.onTheme);
    this.place.removeEventListener('keydown', this.onKey);
    this.place.removeEventListener('wheel', this.onWheel);
    this.group.charts.delete(this);
    if (this.group.charts.size === 0) groups.delete(this.options.group);
    this.plot?.destroy();
    this.plot = null;
  }
}
