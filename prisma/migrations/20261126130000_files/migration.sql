-- Orders of files are found by the computation that they are of.
create index computation_file_idx on app.computation ((input ->> 'of')) where kind = 'file';
