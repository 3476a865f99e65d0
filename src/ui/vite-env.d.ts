/// <reference types="vite/client" />

/** Hash of the program as far as it decides about a variant's files, as the command line has it; put in by the bundler. */
declare const __PROGRAM_HASH__: string;
/** Hash of the whole page's sources. */
declare const __PAGE_SOURCES__: string;
