import { createRoot } from 'react-dom/client';
import { App } from './App.tsx';
import './offline.ts';
import './welcome.ts';
import './theme/tokens.css';
import './theme/page.css';

createRoot(document.getElementById('page')!).render(<App />);
