-- What was asked for lies beside the table, whatever its size: pages of the history read rows of numbers, many to a page of the table.
ALTER TABLE "app"."evaluation" SET (toast_tuple_target = 256);

-- CreateIndex
CREATE INDEX "evaluation_team_id_status_created_at_id_idx" ON "app"."evaluation"("team_id", "status", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "evaluation_team_id_verdict_created_at_id_idx" ON "app"."evaluation"("team_id", "verdict", "created_at" DESC, "id" DESC) WHERE (verdict IS NOT NULL);
