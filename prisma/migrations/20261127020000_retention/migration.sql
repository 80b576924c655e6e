-- AlterTable
ALTER TABLE "app"."computation" ADD COLUMN "thinned_at" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "app"."retention" (
    "team_id" UUID NOT NULL,
    "made_files_after_days" INTEGER,
    "point_results_after_days" INTEGER,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "look_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "retention_pkey" PRIMARY KEY ("team_id")
);

-- CreateIndex
CREATE INDEX "computation_whole_idx" ON "app"."computation"("team_id", "finished_at") WHERE (kind = 'evaluation'::text AND status = 'done'::text AND thinned_at IS NULL);

-- CreateIndex
CREATE INDEX "computation_made_idx" ON "app"."computation"("team_id", "finished_at") WHERE (kind = 'file'::text);

-- AddForeignKey
ALTER TABLE "app"."retention" ADD CONSTRAINT "retention_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
