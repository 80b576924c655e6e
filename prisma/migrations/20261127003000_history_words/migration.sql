-- AlterTable
ALTER TABLE "app"."evaluation" ADD COLUMN "engine_version" TEXT, ADD COLUMN "material" TEXT;

-- What is there already.
UPDATE "app"."evaluation" e SET "engine_version" = c."engine_version", "material" = e."input" #>> '{material,key}'
  FROM "app"."computation" c WHERE c."id" = e."computation_id";
ALTER TABLE "app"."evaluation" ALTER COLUMN "engine_version" SET NOT NULL;

-- CreateIndex
CREATE INDEX "evaluation_team_id_material_created_at_id_idx" ON "app"."evaluation"("team_id", "material", "created_at" DESC, "id" DESC) WHERE (material IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_engine_version_created_at_id_idx" ON "app"."evaluation"("team_id", "engine_version", "created_at" DESC, "id" DESC);

-- Words of names and notes, as they stand: no language is taken for granted.
CREATE INDEX "design_words_idx" ON "app"."design" USING GIN (to_tsvector('simple', "name" || ' ' || "notes"));
CREATE INDEX "version_words_idx" ON "app"."version" USING GIN (to_tsvector('simple', "notes"));
