-- AlterTable
ALTER TABLE "app"."undertaking" ADD COLUMN "engine_versions" JSONB NOT NULL DEFAULT '{}';

-- Members that there are were computed by what their computations say.
UPDATE "app"."undertaking" u SET "engine_versions" = counted.versions
FROM (
  SELECT each.undertaking_id, jsonb_object_agg(each.engine_version, each.n) AS versions
  FROM (
    SELECT m.undertaking_id, c.engine_version, count(*) AS n
    FROM "app"."member" m
    JOIN "app"."evaluation" e ON e.id = m.evaluation_id
    JOIN "app"."computation" c ON c.id = e.computation_id
    GROUP BY m.undertaking_id, c.engine_version
  ) each
  GROUP BY each.undertaking_id
) counted
WHERE u.id = counted.undertaking_id;

-- CreateTable
CREATE TABLE "app"."reevaluated" (
    "undertaking_id" UUID NOT NULL,
    "index" INTEGER NOT NULL,
    "evaluation_id" UUID NOT NULL,

    CONSTRAINT "reevaluated_pkey" PRIMARY KEY ("undertaking_id","index")
);

-- CreateIndex
CREATE INDEX "reevaluated_evaluation_id_idx" ON "app"."reevaluated"("evaluation_id");

-- AddForeignKey
ALTER TABLE "app"."reevaluated" ADD CONSTRAINT "reevaluated_undertaking_id_fkey" FOREIGN KEY ("undertaking_id") REFERENCES "app"."undertaking"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."reevaluated" ADD CONSTRAINT "reevaluated_evaluation_id_fkey" FOREIGN KEY ("evaluation_id") REFERENCES "app"."evaluation"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
