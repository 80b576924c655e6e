/**
 * Applies the migrations that the database does not have yet, in order of their names, and answers the names applied. Safe when several
 * processes start at once. Throws when an applied migration was changed since.
 */
export declare function migrate(databaseUrl: string): Promise<string[]>;
