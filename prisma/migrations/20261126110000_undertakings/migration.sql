-- CreateTable
CREATE TABLE "app"."undertaking" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "input" JSONB NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'queued',
    "total" INTEGER NOT NULL,
    "begun" INTEGER NOT NULL DEFAULT 0,
    "done" INTEGER NOT NULL DEFAULT 0,
    "failed" INTEGER NOT NULL DEFAULT 0,
    "cancelled" INTEGER NOT NULL DEFAULT 0,
    "start_at" TIMESTAMPTZ(3),
    "finish_by" TIMESTAMPTZ(3),
    "repeat_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "started_at" TIMESTAMPTZ(3),
    "resumed_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "outcome" JSONB,

    CONSTRAINT "undertaking_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."member" (
    "undertaking_id" UUID NOT NULL,
    "index" INTEGER NOT NULL,
    "evaluation_id" UUID,
    "errors" JSONB,
    "settled_at" TIMESTAMPTZ(3),

    CONSTRAINT "member_pkey" PRIMARY KEY ("undertaking_id", "index")
);

-- CreateIndex
CREATE INDEX "undertaking_team_id_kind_created_at_id_idx" ON "app"."undertaking"("team_id", "kind", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "undertaking_live_idx" ON "app"."undertaking"("kind") WHERE finished_at IS NULL OR repeat_at IS NOT NULL;

-- CreateIndex
CREATE INDEX "member_evaluation_id_idx" ON "app"."member"("evaluation_id");

-- CreateIndex
CREATE INDEX "member_open_idx" ON "app"."member"("undertaking_id") WHERE settled_at IS NULL;

-- CreateIndex
CREATE INDEX "member_settled_idx" ON "app"."member"("undertaking_id", "settled_at" DESC);

-- AddForeignKey
ALTER TABLE "app"."undertaking" ADD CONSTRAINT "undertaking_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."member" ADD CONSTRAINT "member_undertaking_id_fkey" FOREIGN KEY ("undertaking_id") REFERENCES "app"."undertaking"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."member" ADD CONSTRAINT "member_evaluation_id_fkey" FOREIGN KEY ("evaluation_id") REFERENCES "app"."evaluation"("id") ON DELETE SET NULL ON UPDATE CASCADE;
