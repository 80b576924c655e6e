-- CreateTable
CREATE TABLE "app"."print" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "version_id" UUID NOT NULL,
    "serial" TEXT NOT NULL,
    "material_key" TEXT NOT NULL,
    "material_revision" INTEGER NOT NULL,
    "build_volume_key" TEXT NOT NULL,
    "build_volume_revision" INTEGER NOT NULL,
    "lot" TEXT NOT NULL,
    "virgin_share_pct" DOUBLE PRECISION,
    "build" TEXT NOT NULL,
    "place_mm" DOUBLE PRECISION[] DEFAULT ARRAY[]::DOUBLE PRECISION[],
    "orientation_deg" DOUBLE PRECISION[] DEFAULT ARRAY[]::DOUBLE PRECISION[],
    "finishing" JSONB NOT NULL,
    "printed_on" DATE NOT NULL,
    "notes" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(3),

    CONSTRAINT "print_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."measurement" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "print_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "measured_at" TIMESTAMPTZ(3) NOT NULL,
    "given" JSONB NOT NULL,
    "values" JSONB NOT NULL,
    "content_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(3),

    CONSTRAINT "measurement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."acceptance" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "version_id" UUID NOT NULL,
    "decided_by_id" UUID NOT NULL,
    "verdict" TEXT NOT NULL,
    "input" JSONB NOT NULL,
    "outcome" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "acceptance_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "print_team_id_created_at_id_idx" ON "app"."print"("team_id", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "print_version_id_idx" ON "app"."print"("version_id");

-- CreateIndex
CREATE UNIQUE INDEX "print_team_id_serial_key" ON "app"."print"("team_id", "serial");

-- CreateIndex
CREATE INDEX "measurement_team_id_created_at_id_idx" ON "app"."measurement"("team_id", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE UNIQUE INDEX "measurement_once_key" ON "app"."measurement"("print_id", "content_hash") WHERE (archived_at IS NULL);

-- CreateIndex
CREATE INDEX "acceptance_team_id_created_at_id_idx" ON "app"."acceptance"("team_id", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "acceptance_version_id_idx" ON "app"."acceptance"("version_id");

-- AddForeignKey
ALTER TABLE "app"."print" ADD CONSTRAINT "print_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."print" ADD CONSTRAINT "print_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "app"."version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."measurement" ADD CONSTRAINT "measurement_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."measurement" ADD CONSTRAINT "measurement_print_id_fkey" FOREIGN KEY ("print_id") REFERENCES "app"."print"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."acceptance" ADD CONSTRAINT "acceptance_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."acceptance" ADD CONSTRAINT "acceptance_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "app"."version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."acceptance" ADD CONSTRAINT "acceptance_decided_by_id_fkey" FOREIGN KEY ("decided_by_id") REFERENCES "app"."api_key"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What was decided stays as it was decided.
CREATE FUNCTION "app"."refuse_change"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'rows of % never change', TG_TABLE_NAME;
END $$;

CREATE TRIGGER "acceptance_stays" BEFORE UPDATE OR DELETE ON "app"."acceptance"
  FOR EACH ROW EXECUTE FUNCTION "app"."refuse_change"();
