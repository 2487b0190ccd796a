// Columns as the host sends them: four bytes with the length of a JSON head, the head, then plain numbers, little-endian, every block filled up to eight bytes.
export const standing = { measured: 0, mended: 1, modelled: 2, lost: 3 };

export function read(bytes) {
  const length = new DataView(bytes.buffer, bytes.byteOffset, 4).getUint32(0, true);
  const head = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length)));
  // A copy starts on a bound, as arrays of numbers must.
  const body = bytes.slice(4 + length).buffer;
  const count = head.count;
  let at = 0;
  const take = (type, size) => {
    const block = new type(body, at, count);
    at += Math.ceil(count * size / 8) * 8;
    return block;
  };
  const times = take(Float64Array, 8);
  const columns = head.columns.map(column => ({
    ...column,
    mean: take(Float32Array, 4),
    low: take(Float32Array, 4),
    high: take(Float32Array, 4),
    standing: take(Uint8Array, 1),
  }));
  return { from: head.from, to: head.to, wholeFrom: head.whole_from, wholeTo: head.whole_to, step: head.step, times, columns };
}

// The least and the most of what is in sight, with a little room.
export function range(frame, from, to, holdsZero) {
  let least = Infinity, most = -Infinity;
  for (const column of frame.columns) {
    for (let index = 0; index < frame.times.length; index++) {
      const time = frame.times[index];
      if (time < from || time > to) continue;
      if (column.low[index] < least) least = column.low[index];
      if (column.high[index] > most) most = column.high[index];
    }
  }
  if (!(least <= most)) return [0, 1];
  if (holdsZero || (least > 0 && least < 0.3 * most)) least = Math.min(least, 0);
  if (holdsZero) most = Math.max(most, 0);
  const room = (most - least) * 0.06 || Math.abs(most) * 0.05 || 1;
  return [least === 0 ? 0 : least - room, most + room];
}

// Watts of thousands are read as kilowatts: one unit for the axis, the cursor and the table of a chart. Model/Charts/UnitScale.cs holds the same rule.
export function scaleOf(frame) {
  const unit = frame.columns[0]?.unit ?? '';
  let size = 0;
  for (const { low, high } of frame.columns) {
    for (let index = 0; index < low.length; index++) {
      if (Math.abs(low[index]) > size) size = Math.abs(low[index]);
      if (Math.abs(high[index]) > size) size = Math.abs(high[index]);
    }
  }
  if (['W', 'var', 'VA', 'Wh', 'varh', 'VAh'].includes(unit)) {
    if (size >= 2e6) return { factor: 1e6, unit: `M${unit}` };
    if (size >= 2e3) return { factor: 1e3, unit: `k${unit}` };
  }
  return { factor: 1, unit };
}

// The mark between whole and fraction is the one that the screens use.
export const marked = (text, mark) => mark === ',' ? text.replace('.', ',') : text;

export function digits(value, mark) {
  const size = Math.abs(value);
  return marked(value.toFixed(size >= 1000 ? 0 : size >= 100 ? 1 : size >= 10 ? 2 : 3), mark);
}

// Every time is the recorder's own clock: it is written as it is, in no zone of this device.
const days = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];
const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
const two = number => String(number).padStart(2, '0');

// A recording whose date nobody knows counts from the first of January of the year 1: its times are written as the time since its start, as everywhere.
const yearOne = Date.UTC(1970, 0, 1) - 62135596800e3;
const isDated = time => time >= yearOne + 365 * 86400e3;

function sinceStart(time) {
  const passed = Math.round(time - yearOne);
  const rest = passed % 1000;
  return `+${Math.floor(passed / 3600e3)}:${two(Math.floor(passed / 60e3) % 60)}:${two(Math.floor(passed / 1000) % 60)}${rest ? `.${String(rest).padStart(3, '0').replace(/0+$/, '')}` : ''}`;
}

export function dayText(time) {
  if (!isDated(time)) return '';
  const date = new Date(time);
  return `${days[date.getUTCDay()]} ${date.getUTCDate()} ${months[date.getUTCMonth()]}`;
}

export function clockText(time, step) {
  if (!isDated(time)) return sinceStart(time);
  const date = new Date(time);
  const minutes = `${two(date.getUTCHours())}:${two(date.getUTCMinutes())}`;
  if (step >= 60e3) return minutes;
  const seconds = `${minutes}:${two(date.getUTCSeconds())}`;
  return step >= 1000 ? seconds : `${seconds}.${String(date.getUTCMilliseconds()).padStart(3, '0')}`;
}
