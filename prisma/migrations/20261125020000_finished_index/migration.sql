-- CreateIndex
CREATE INDEX "evaluation_team_id_finished_at_idx" ON "app"."evaluation"("team_id", "finished_at");
