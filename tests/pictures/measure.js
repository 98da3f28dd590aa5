// Boxes of all texts of a document, each line of a text by itself.
function boxes(page) {
  const found = [];
  const walker = page.createTreeWalker(page.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const text = walker.currentNode.data.trim();
    const element = walker.currentNode.parentElement;
    if (!text || element.closest("style, script, title, desc")) continue;
    const picture = element.closest("svg.picture");
    const range = page.createRange();
    range.selectNodeContents(walker.currentNode);
    const rects = picture ? [element.getBoundingClientRect()] : range.getClientRects();
    for (const rect of rects) {
      if (rect.width > 0 && rect.height > 0) found.push({ text, rect, picture });
    }
  }
  return found;
}

// A pixel of either way is rounding.
const upon = (a, b) =>
  Math.min(a.right, b.right) - Math.max(a.left, b.left) > 1 &&
  Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top) > 1;

const within = (a, room) => a.left > room.left - 1 && a.right < room.right + 1;

function faults(name, page) {
  const found = boxes(page);
  const lines = [];
  const paper = { left: 0, right: page.documentElement.clientWidth };
  found.sort((a, b) => a.rect.top - b.rect.top);
  found.forEach((a, place) => {
    const frame = a.picture ? a.picture.getBoundingClientRect() : null;
    const cut = frame && (!within(a.rect, frame) || a.rect.top < frame.top - 1 || a.rect.bottom > frame.bottom + 1);
    if (cut || !within(a.rect, paper)) lines.push(`${name}: "${a.text}" is cut off at ${Math.round(a.rect.left)}, ${Math.round(a.rect.top)}`);
    for (let next = place + 1; next < found.length && found[next].rect.top < a.rect.bottom; next++) {
      if (upon(a.rect, found[next].rect)) lines.push(`${name}: "${a.text}" lies upon "${found[next].text}"`);
    }
  });
  if (page.documentElement.scrollWidth > paper.right) lines.push(`${name}: is wider than its window`);
  lines.push(`${found.length} texts seen`);
  return lines;
}

window.addEventListener("load", () => {
  const lines = [];
  for (const frame of document.querySelectorAll("iframe")) lines.push(...faults(frame.name, frame.contentDocument));
  document.getElementById("found").textContent = lines.join("\n");
});
