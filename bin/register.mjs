// Lets Node run the TypeScript sources as they are; a worker thread imports this file first, as the main thread does.
import { register } from 'tsx/esm/api';

register();
