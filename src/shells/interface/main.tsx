/** Where the interface begins: connects to the shell that served this page and draws what it says. */
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { connectHost } from './host/host.ts';
import './style/tokens.css';
import './style/base.css';
import './style/print.css';

createRoot(document.getElementById('root')!).render(<App host={connectHost()} />);
