// What can be dragged in a drawing, or moved with the arrow keys; one place for both.
"use strict";

window.carrybookDrag = {
  point(svg, event) {
    const p = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    return { x: p.x, y: p.y };
  },
  put(handle, p) { handle.setAttribute("transform", `translate(${p.x.toFixed(2)} ${p.y.toFixed(2)})`); },
  spot(handle) {
    const found = handle.getAttribute("transform").match(/translate\(([-\d.]+)[ ,]([-\d.]+)\)/);
    return { x: Number(found[1]), y: Number(found[2]) };
  },
  // move(p) follows the hand; rest() comes once when it lets go, or a while after the last key.
  handle(handle, svg, move, rest) {
    let held = false, later = 0;
    handle.addEventListener("pointerdown", (event) => {
      event.preventDefault();
      event.stopPropagation();
      handle.setPointerCapture(event.pointerId);
      held = true;
      clearTimeout(later);
    });
    handle.addEventListener("pointermove", (event) => { if (held) move(this.point(svg, event)); });
    const drop = () => { if (held) { held = false; rest(); } };
    handle.addEventListener("pointerup", drop);
    handle.addEventListener("pointercancel", drop);
    handle.addEventListener("keydown", (event) => {
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (!way) return;
      event.preventDefault();
      const at = this.spot(handle);
      move({ x: at.x + way[0] * 0.9144, y: at.y + way[1] * 0.9144 });
      clearTimeout(later);
      later = setTimeout(rest, 450);
    });
  },
};
