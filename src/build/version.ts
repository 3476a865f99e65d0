import info from '../../package.json' with { type: 'json' };

/** Version of this program, as the report tells it. */
export const VERSION: string = info.version;
