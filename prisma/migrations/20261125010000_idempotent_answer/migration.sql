-- CreateTable
CREATE TABLE "app"."idempotent_answer" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "route" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "request_hash" TEXT NOT NULL,
    "answer" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "idempotent_answer_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "idempotent_answer_created_at_idx" ON "app"."idempotent_answer"("created_at");

-- CreateIndex
CREATE UNIQUE INDEX "idempotent_answer_team_id_route_key_key" ON "app"."idempotent_answer"("team_id", "route", "key");

-- AddForeignKey
ALTER TABLE "app"."idempotent_answer" ADD CONSTRAINT "idempotent_answer_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
