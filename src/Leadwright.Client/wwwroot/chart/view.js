// A part of the page as one drawing: its SVG pictures with the looks that the page gives them, and the words between them.
import { save } from './save.js';
const shown = ['fill', 'fill-opacity', 'stroke', 'stroke-width', 'stroke-dasharray', 'stroke-linecap', 'stroke-linejoin', 'stroke-opacity', 'opacity', 'font-family', 'font-size', 'font-weight', 'text-anchor', 'dominant-baseline', 'visibility'];
const space = 'http://www.w3.org/2000/svg';

export async function saveView(place, fileName, title, isPng) {
  const { text, width, height } = drawingOf(place, title);
  const blob = new Blob([text], { type: 'image/svg+xml' });
  if (!isPng) return save(blob, fileName);
  const picture = new Image(width, height);
  picture.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await picture.decode();
  // Twice as fine as the screen: it is for paper.
  const sheet = document.createElement('canvas');
  [sheet.width, sheet.height] = [Math.ceil(width * 2), Math.ceil(height * 2)];
  const pen = sheet.getContext('2d');
  pen.scale(2, 2);
  pen.drawImage(picture, 0, 0, width, height);
  await new Promise(done => sheet.toBlob(made => { save(made, fileName); done(); }, 'image/png'));
}

export function drawingOf(place, title) {
  const frame = place.getBoundingClientRect(), room = 12;
  const width = Math.ceil(frame.width + 2 * room), height = Math.ceil(frame.height + 2 * room);
  const root = document.createElementNS(space, 'svg');
  root.setAttribute('viewBox', `0 0 ${width} ${height}`);
  root.setAttribute('width', width);
  root.setAttribute('height', height);
  root.append(made('title', {}, title), made('rect', { width, height, fill: ground(place) }));
  const at = box => ({ x: round(box.left - frame.left + room), y: round(box.top - frame.top + room), width: round(box.width), height: round(box.height) });
  walk(place);
  return { text: new XMLSerializer().serializeToString(root), width, height };

  function walk(element) {
    for (const node of element.childNodes) {
      if (node.nodeType === Node.TEXT_NODE) words(node);
      else if (node.nodeType !== Node.ELEMENT_NODE || node.matches('button, summary, .unseen, .hint.keys')) continue;
      else if (node instanceof SVGSVGElement) picture(node);
      else if (node.checkVisibility()) {
        const looks = getComputedStyle(node);
        if (!/^rgba\(.*, 0\)$|transparent/.test(looks.backgroundColor)) root.append(made('rect', { ...at(node.getBoundingClientRect()), rx: parseFloat(looks.borderRadius) || 0, fill: looks.backgroundColor }));
        walk(node);
      }
    }
  }

  function picture(svg) {
    const copy = withLooks(svg);
    const isDefinition = svg.classList.contains('defs');
    for (const [name, value] of Object.entries(isDefinition ? { width: 0, height: 0 } : at(svg.getBoundingClientRect()))) copy.setAttribute(name, value);
    root.append(copy);
  }

  function words(node) {
    if (!node.data.trim()) return;
    const looks = getComputedStyle(node.parentElement);
    const range = document.createRange();
    // Line by line, as the page breaks them: a word begins a line where it stands lower than the one before.
    let line = null;
    for (const match of node.data.matchAll(/\S+/g)) {
      range.setStart(node, match.index);
      range.setEnd(node, match.index + match[0].length);
      const box = range.getBoundingClientRect();
      if (box.width === 0) continue;
      if (line && Math.abs(line.top - box.top) < 2) line.text += ` ${match[0]}`;
      else {
        put(line);
        line = { text: match[0], top: box.top, left: box.left, bottom: box.bottom };
      }
    }
    put(line);

    function put(made_) {
      if (!made_) return;
      const size = parseFloat(looks.fontSize);
      const middle = (made_.top + made_.bottom) / 2 - frame.top + room;
      root.append(made('text', { x: round(made_.left - frame.left + room), y: round(middle + size * 0.35), fill: looks.color, 'font-family': 'sans-serif', 'font-size': size, 'font-weight': looks.fontWeight }, made_.text));
    }
  }
}

// The page's rules stay behind when a picture leaves it: what they say goes along with each part.
function withLooks(element) {
  const copy = element.cloneNode(true);
  const from = [element, ...element.querySelectorAll('*')], to = [copy, ...copy.querySelectorAll('*')];
  from.forEach((part, index) => {
    const looks = getComputedStyle(part);
    for (const name of shown) {
      const value = looks.getPropertyValue(name);
      if (value && value !== 'normal' && !(name === 'visibility' && value === 'visible')) to[index].setAttribute(name, name === 'font-family' ? 'sans-serif' : value.replace(/url\("[^"#]*#([^"]+)"\)/, 'url(#$1)'));
    }
    for (const name of ['class', 'style', 'tabindex', 'role', 'aria-pressed', 'onclick']) to[index].removeAttribute(name);
  });
  return copy;
}

function made(name, values, text) {
  const element = document.createElementNS(space, name);
  for (const [key, value] of Object.entries(values)) element.setAttribute(key, value);
  if (text) element.textContent = text;
  return element;
}

function ground(place) {
  for (let element = place; element; element = element.parentElement) {
    const colour = getComputedStyle(element).backgroundColor;
    if (!/^rgba\(.*, 0\)$|transparent/.test(colour)) return colour;
  }
  return '#fff';
}

const round = value => Math.round(value * 10) / 10;
