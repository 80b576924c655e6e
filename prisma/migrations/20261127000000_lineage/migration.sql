-- The followers of a version are found by what they are based on.
CREATE INDEX "version_based_on_id_idx" ON "app"."version"("based_on_id");
