-- AlterTable
ALTER TABLE "app"."computation" ADD COLUMN "kind" TEXT NOT NULL DEFAULT 'evaluation';

-- CreateIndex
CREATE INDEX "computation_tray_idx" ON "app"."computation"("team_id", "created_at" DESC, "id" DESC) WHERE kind = 'tray'::text;
