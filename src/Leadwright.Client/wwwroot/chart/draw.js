// What is between the axes. Dashes tell how far a value may be trusted, shapes on the line tell the phase: both stay readable in black and white.
import { standing } from './data.js';

const dashes = { [standing.measured]: [], [standing.mended]: [9, 5], [standing.modelled]: [2, 4] };

export function draw(pen, area, frame, looks, colours, ratio, toX, toY, extras) {
  pen.save();
  pen.beginPath();
  pen.rect(area.left, area.top, area.width, area.height);
  pen.clip();
  hatchLost(pen, area, frame, looks, colours, ratio, toX);
  for (const band of extras.bands) fillBand(pen, band, frame, colours, ratio, toX, toY);
  for (const mark of extras.marks) drawMark(pen, area, mark, colours, ratio, toX);
  frame.columns.forEach((column, index) => {
    const look = looks[index];
    const colour = look.faint ? colours.faint : colours.lines[look.look];
    fillRange(pen, frame, column, look, colour, toX, toY);
    strokeLine(pen, frame, column, look, colour, ratio, toX, toY);
    if (look.shape) drawShapes(pen, area, frame, column, look, colour, ratio, toX, toY, index);
  });
  pen.restore();
  drawMarkLabels(pen, area, extras.marks, colours, ratio, toX);
  drawLabels(pen, area, frame, looks, colours, ratio, toX, toY);
  pen.fillStyle = colours.ink;
  pen.textAlign = 'right';
  pen.textBaseline = 'middle';
  if (extras.unit) pen.fillText(extras.unit, area.left - 6 * ratio, area.top - 15 * ratio);
}

function fillRange(pen, frame, column, look, colour, toX, toY) {
  if (look.faint) return;
  pen.fillStyle = colour;
  pen.globalAlpha = 0.22;
  forRuns(frame, column, (first, last) => {
    if (last === first) return;
    pen.beginPath();
    for (let index = first; index <= last; index++) pen.lineTo(toX(frame.times[index]), toY(column.high[index]));
    for (let index = last; index >= first; index--) pen.lineTo(toX(frame.times[index]), toY(column.low[index]));
    pen.closePath();
    pen.fill();
  });
  pen.globalAlpha = 1;
}

function strokeLine(pen, frame, column, look, colour, ratio, toX, toY) {
  pen.strokeStyle = colour;
  pen.fillStyle = colour;
  pen.lineWidth = (look.faint ? 1 : 1.8) * ratio;
  pen.lineJoin = 'round';
  forRuns(frame, column, (first, last) => {
    if (last === first) {
      // One value between two gaps is still a value.
      pen.beginPath();
      pen.arc(toX(frame.times[first]), toY(column.mean[first]), 2 * ratio, 0, 2 * Math.PI);
      pen.fill();
      return;
    }
    for (let start = first; start < last;) {
      const kind = Math.min(Math.max(column.standing[start], column.standing[start + 1]), standing.modelled);
      let end = start + 1;
      while (end < last && Math.min(Math.max(column.standing[end], column.standing[end + 1]), standing.modelled) === kind) end++;
      pen.setLineDash(look.faint ? [] : dashes[kind].map(length => length * ratio));
      pen.beginPath();
      for (let index = start; index <= end; index++) pen.lineTo(toX(frame.times[index]), toY(column.mean[index]));
      pen.stroke();
      start = end;
    }
  });
  pen.setLineDash([]);
}

// Runs of values without a gap: a missing one, or times further apart than rows stand.
function forRuns(frame, column, take) {
  const count = frame.times.length;
  for (let first = 0; first < count; first++) {
    if (Number.isNaN(column.mean[first])) continue;
    let last = first;
    while (last + 1 < count && !Number.isNaN(column.mean[last + 1]) && frame.times[last + 1] - frame.times[last] <= 1.6 * frame.step) last++;
    take(first, last);
    first = last;
  }
}

function drawShapes(pen, area, frame, column, look, colour, ratio, toX, toY, offset) {
  const apart = 130 * ratio;
  pen.fillStyle = colour;
  for (let x = area.left + (40 + 37 * offset) * ratio; x < area.left + area.width; x += apart) {
    const index = nearest(frame.times, toX, x);
    if (index < 0 || Number.isNaN(column.mean[index]) || Math.abs(toX(frame.times[index]) - x) > apart / 2) continue;
    shape(pen, look.shape, toX(frame.times[index]), toY(column.mean[index]), 4 * ratio);
  }
}

function nearest(times, toX, x) {
  let low = 0, high = times.length - 1;
  if (high < 0) return -1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (toX(times[middle]) < x) low = middle; else high = middle;
  }
  return x - toX(times[low]) < toX(times[high]) - x ? low : high;
}

export function shape(pen, kind, x, y, size) {
  pen.beginPath();
  if (kind === 'square') pen.rect(x - size, y - size, 2 * size, 2 * size);
  else if (kind === 'triangle') {
    pen.moveTo(x, y - 1.3 * size);
    pen.lineTo(x + 1.2 * size, y + size);
    pen.lineTo(x - 1.2 * size, y + size);
    pen.closePath();
  } else if (kind === 'diamond') {
    pen.moveTo(x, y - 1.4 * size);
    pen.lineTo(x + 1.4 * size, y);
    pen.lineTo(x, y + 1.4 * size);
    pen.lineTo(x - 1.4 * size, y);
    pen.closePath();
  } else pen.arc(x, y, size, 0, 2 * Math.PI);
  pen.fill();
}

// What is lost in all columns is hatched from top to bottom; in one of several, along the foot.
function hatchLost(pen, area, frame, looks, colours, ratio, toX) {
  const shown = frame.columns.filter((_, index) => !looks[index].faint);
  shown.forEach((column, lane) => {
    for (let first = 0; first < frame.times.length; first++) {
      if (!Number.isNaN(column.mean[first])) continue;
      let last = first;
      while (last + 1 < frame.times.length && Number.isNaN(column.mean[last + 1])) last++;
      const all = shown.every(other => Number.isNaN(other.mean[first]));
      const left = toX(frame.times[first] - frame.step / 2), right = toX(frame.times[last] + frame.step / 2);
      const top = all ? area.top : area.top + area.height - (lane + 1) * 11 * ratio;
      hatch(pen, left, top, right - left, all ? area.height : 9 * ratio, colours.hatch, ratio);
      first = last;
    }
  });
  for (let index = 1; index < frame.times.length; index++) {
    if (frame.times[index] - frame.times[index - 1] <= 1.6 * frame.step) continue;
    const left = toX(frame.times[index - 1] + frame.step / 2), right = toX(frame.times[index] - frame.step / 2);
    hatch(pen, left, area.top, right - left, area.height, colours.hatch, ratio);
  }
}

function hatch(pen, left, top, width, height, colour, ratio) {
  if (!(width > 0.3)) return;
  pen.save();
  pen.beginPath();
  pen.rect(left, top, width, height);
  pen.clip();
  pen.strokeStyle = colour;
  pen.lineWidth = ratio;
  pen.beginPath();
  for (let x = left - height; x < left + width; x += 7 * ratio) {
    pen.moveTo(x, top + height);
    pen.lineTo(x + height, top);
  }
  pen.stroke();
  pen.restore();
}

// How far the first line may be off over a stretch.
function fillBand(pen, band, frame, colours, ratio, toX, toY) {
  const column = frame.columns[0];
  pen.fillStyle = colours.band;
  // The tint alone is too faint to be made out on its ground.
  pen.strokeStyle = colours.hatch;
  pen.lineWidth = ratio;
  forRuns(frame, column, (first, last) => {
    const inside = [];
    for (let index = first; index <= last; index++) {
      if (frame.times[index] >= band.from && frame.times[index] <= band.to) inside.push(index);
    }
    if (inside.length < 2) return;
    pen.beginPath();
    for (const index of inside) pen.lineTo(toX(frame.times[index]), toY(column.mean[index] + band.half));
    for (const index of inside.reverse()) pen.lineTo(toX(frame.times[index]), toY(column.mean[index] - band.half));
    pen.closePath();
    pen.fill();
    pen.stroke();
  });
}

function drawMark(pen, area, mark, colours, ratio, toX) {
  const x = toX(mark.at);
  pen.strokeStyle = colours.mark;
  pen.lineWidth = 2 * ratio;
  pen.setLineDash([6 * ratio, 3 * ratio]);
  pen.beginPath();
  pen.moveTo(x, area.top);
  pen.lineTo(x, area.top + area.height);
  pen.stroke();
  pen.setLineDash([]);
}

// Above the plot, where no line is hidden by them; one that would lie on another stands a row lower. Seven pixels a letter: a drawing has no ruler for text.
function drawMarkLabels(pen, area, marks, colours, ratio, toX) {
  const placed = [];
  pen.fillStyle = colours.mark;
  pen.font = colours.font;
  pen.textBaseline = 'middle';
  pen.textAlign = 'center';
  for (const mark of marks) {
    const x = toX(mark.at);
    if (x < area.left || x > area.left + area.width) continue;
    const half = (3.5 * mark.label.length + 2) * ratio;
    const middle = Math.min(Math.max(x, area.left + half), area.left + area.width - half);
    let row = 0;
    while (placed.some(other => other.row === row && Math.abs(middle - other.middle) < half + other.half)) row++;
    placed.push({ row, middle, half });
    pen.fillText(mark.label, middle, area.top + (17 * row - 9) * ratio);
  }
}

// Plates with the names at the ends of the lines, pushed apart where they would lie on each other.
function drawLabels(pen, area, frame, looks, colours, ratio, toX, toY) {
  const labels = [];
  frame.columns.forEach((column, index) => {
    if (looks[index].faint || !looks[index].label) return;
    for (let at = frame.times.length - 1; at >= 0; at--) {
      if (Number.isNaN(column.mean[at]) || toX(frame.times[at]) > area.left + area.width + 1) continue;
      labels.push({ y: Math.min(Math.max(toY(column.mean[at]), area.top + 9 * ratio), area.top + area.height - 9 * ratio), look: looks[index] });
      break;
    }
  });
  labels.sort((one, other) => one.y - other.y);
  const apart = 18 * ratio;
  for (let index = 1; index < labels.length; index++) labels[index].y = Math.max(labels[index].y, labels[index - 1].y + apart);
  for (let index = labels.length - 1, bottom = area.top + area.height; index >= 0; index--, bottom -= apart) labels[index].y = Math.min(labels[index].y, bottom);
  pen.font = colours.font;
  pen.textBaseline = 'middle';
  pen.textAlign = 'left';
  for (const { y, look } of labels) {
    const x = area.left + area.width + 6 * ratio;
    pen.fillStyle = colours.lines[look.look];
    if (look.shape) shape(pen, look.shape, x + 5 * ratio, y, 4 * ratio);
    pen.fillStyle = colours.ink;
    pen.fillText(look.label, x + 14 * ratio, y);
  }
}
