import { render } from 'preact';
import type { Given } from './protocol.js';
import { Store } from './store.js';
import { App } from './view/app.js';

const given = JSON.parse(document.getElementById('given')!.textContent!) as Given;
const root = document.getElementById('page')!;
let isDue = false;

/** Drawn once a frame, however much has been heard in it. */
const store: Store = new Store(given, () => {
  if (isDue) return;
  isDue = true;
  requestAnimationFrame(() => {
    isDue = false;
    draw();
  });
});

function draw(): void {
  const name = store.state.a?.answer.reading?.rig.name;
  if (name !== undefined) document.title = `${name} · stayput`;
  render(<App store={store} />, root);
}

root.replaceChildren();
draw();
