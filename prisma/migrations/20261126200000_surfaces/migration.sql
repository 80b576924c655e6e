-- CreateIndex
CREATE INDEX "computation_learnt_idx" ON "app"."computation"("team_id", "kind", "created_at" DESC, "id" DESC) WHERE (kind = ANY (ARRAY['calibration'::text, 'surface'::text]));
