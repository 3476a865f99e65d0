/** The page: title, readiness strip, the stage and the lanes on one ruler, the sliders, the player. */

import { Bench } from './lanes/Bench.tsx';
import { Header } from './parts/Header.tsx';
import { Notice } from './parts/Notice.tsx';
import { Player } from './parts/Player.tsx';
import { Sliders } from './parts/Sliders.tsx';
import { Strip } from './parts/Strip.tsx';

export function App() {
  return (
    <div className="page">
      <Header />
      <Strip />
      <main className="bench">
        <Bench />
      </main>
      <aside className="sliders" aria-label="Sliders of what is selected">
        <Sliders />
      </aside>
      <footer className="foot">
        <Notice />
        <Player />
      </footer>
    </div>
  );
}
