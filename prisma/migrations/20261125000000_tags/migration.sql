-- AlterTable
ALTER TABLE "app"."design" ADD COLUMN "tags" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- AlterTable
ALTER TABLE "app"."version" ADD COLUMN "tags" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- CreateIndex
CREATE INDEX "design_tags_idx" ON "app"."design" USING GIN ("tags");

-- CreateIndex
CREATE INDEX "version_tags_idx" ON "app"."version" USING GIN ("tags");
