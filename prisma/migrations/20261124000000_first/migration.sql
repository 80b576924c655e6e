-- CreateSchema
CREATE SCHEMA IF NOT EXISTS "app";

-- CreateTable
CREATE TABLE "app"."team" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "team_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."api_key" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "prefix" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_used_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "api_key_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."catalogue_record" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "newest_revision" INTEGER NOT NULL DEFAULT 1,
    "archived_at" TIMESTAMPTZ(3),

    CONSTRAINT "catalogue_record_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."catalogue_revision" (
    "id" UUID NOT NULL,
    "record_id" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "body" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "catalogue_revision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."design" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "notes" TEXT NOT NULL,
    "newest_version" INTEGER NOT NULL DEFAULT 0,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "archived_at" TIMESTAMPTZ(3),

    CONSTRAINT "design_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."version" (
    "id" UUID NOT NULL,
    "design_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "parameter_set" JSONB NOT NULL,
    "notes" TEXT NOT NULL,
    "based_on_id" UUID,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "version_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."computation" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "input_hash" TEXT NOT NULL,
    "engine_version" TEXT NOT NULL,
    "input" JSONB NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'queued',
    "stage" TEXT,
    "progress_pct" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "worker_id" TEXT,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "queued_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "started_at" TIMESTAMPTZ(3),
    "heartbeat_at" TIMESTAMPTZ(3),
    "cancel_requested_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "result" JSONB,
    "quantities" JSONB,
    "error" JSONB,
    "retryable" BOOLEAN NOT NULL DEFAULT false,

    CONSTRAINT "computation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."evaluation" (
    "id" UUID NOT NULL,
    "team_id" UUID NOT NULL,
    "computation_id" UUID NOT NULL,
    "design_id" UUID,
    "version_id" UUID,
    "input" JSONB NOT NULL,
    "request_hash" TEXT NOT NULL,
    "status" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "finished_at" TIMESTAMPTZ(3),
    "verdict" TEXT,
    "mass_g" DOUBLE PRECISION,
    "outside_diameter_mm" DOUBLE PRECISION,
    "circumference_mm" DOUBLE PRECISION,
    "stiffness_n_per_mm" DOUBLE PRECISION,
    "rebound_height_mm" DOUBLE PRECISION,
    "restitution" DOUBLE PRECISION,
    "peak_force_n" DOUBLE PRECISION,
    "total_per_part" DOUBLE PRECISION,
    "volume_mm3" DOUBLE PRECISION,
    "relative_density_pct" DOUBLE PRECISION,
    "centre_of_mass_offset_mm" DOUBLE PRECISION,
    "inertia_spread_pct" DOUBLE PRECISION,
    "strut_count" DOUBLE PRECISION,
    "initial_n_per_mm" DOUBLE PRECISION,
    "contact_time_ms" DOUBLE PRECISION,
    "stiffness_peak_strain_pct" DOUBLE PRECISION,
    "rebound_peak_strain_pct" DOUBLE PRECISION,
    "cycles_to_failure" DOUBLE PRECISION,
    "parts_per_build" DOUBLE PRECISION,
    "total_hours" DOUBLE PRECISION,
    "packing_density_pct" DOUBLE PRECISION,
    "min_cell_opening_mm" DOUBLE PRECISION,

    CONSTRAINT "evaluation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "app"."file" (
    "id" UUID NOT NULL,
    "computation_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "media_type" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "size" INTEGER NOT NULL,
    "content" BYTEA NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "file_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "api_key_hash_key" ON "app"."api_key"("hash");

-- CreateIndex
CREATE INDEX "api_key_prefix_idx" ON "app"."api_key"("prefix");

-- CreateIndex
CREATE INDEX "api_key_team_id_idx" ON "app"."api_key"("team_id");

-- CreateIndex
CREATE UNIQUE INDEX "catalogue_record_team_id_kind_key_key" ON "app"."catalogue_record"("team_id", "kind", "key");

-- CreateIndex
CREATE UNIQUE INDEX "catalogue_revision_record_id_revision_key" ON "app"."catalogue_revision"("record_id", "revision");

-- CreateIndex
CREATE INDEX "design_team_id_created_at_id_idx" ON "app"."design"("team_id", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE UNIQUE INDEX "version_design_id_number_key" ON "app"."version"("design_id", "number");

-- CreateIndex
CREATE INDEX "computation_outstanding_idx" ON "app"."computation"("team_id") WHERE (finished_at IS NULL);

-- CreateIndex
CREATE INDEX "computation_status_idx" ON "app"."computation"("status");

-- CreateIndex
CREATE UNIQUE INDEX "computation_team_id_input_hash_engine_version_key" ON "app"."computation"("team_id", "input_hash", "engine_version");

-- CreateIndex
CREATE INDEX "evaluation_team_id_created_at_id_idx" ON "app"."evaluation"("team_id", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "evaluation_design_id_created_at_id_idx" ON "app"."evaluation"("design_id", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "evaluation_version_id_created_at_id_idx" ON "app"."evaluation"("version_id", "created_at" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "evaluation_team_id_mass_g_id_idx" ON "app"."evaluation"("team_id", "mass_g", "id") WHERE (mass_g IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_outside_diameter_mm_id_idx" ON "app"."evaluation"("team_id", "outside_diameter_mm", "id") WHERE (outside_diameter_mm IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_circumference_mm_id_idx" ON "app"."evaluation"("team_id", "circumference_mm", "id") WHERE (circumference_mm IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_stiffness_n_per_mm_id_idx" ON "app"."evaluation"("team_id", "stiffness_n_per_mm", "id") WHERE (stiffness_n_per_mm IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_rebound_height_mm_id_idx" ON "app"."evaluation"("team_id", "rebound_height_mm", "id") WHERE (rebound_height_mm IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_restitution_id_idx" ON "app"."evaluation"("team_id", "restitution", "id") WHERE (restitution IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_peak_force_n_id_idx" ON "app"."evaluation"("team_id", "peak_force_n", "id") WHERE (peak_force_n IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_total_per_part_id_idx" ON "app"."evaluation"("team_id", "total_per_part", "id") WHERE (total_per_part IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_volume_mm3_id_idx" ON "app"."evaluation"("team_id", "volume_mm3", "id") WHERE (volume_mm3 IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_relative_density_pct_id_idx" ON "app"."evaluation"("team_id", "relative_density_pct", "id") WHERE (relative_density_pct IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_centre_of_mass_offset_mm_id_idx" ON "app"."evaluation"("team_id", "centre_of_mass_offset_mm", "id") WHERE (centre_of_mass_offset_mm IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_inertia_spread_pct_id_idx" ON "app"."evaluation"("team_id", "inertia_spread_pct", "id") WHERE (inertia_spread_pct IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_strut_count_id_idx" ON "app"."evaluation"("team_id", "strut_count", "id") WHERE (strut_count IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_initial_n_per_mm_id_idx" ON "app"."evaluation"("team_id", "initial_n_per_mm", "id") WHERE (initial_n_per_mm IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_contact_time_ms_id_idx" ON "app"."evaluation"("team_id", "contact_time_ms", "id") WHERE (contact_time_ms IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_stiffness_peak_strain_pct_id_idx" ON "app"."evaluation"("team_id", "stiffness_peak_strain_pct", "id") WHERE (stiffness_peak_strain_pct IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_rebound_peak_strain_pct_id_idx" ON "app"."evaluation"("team_id", "rebound_peak_strain_pct", "id") WHERE (rebound_peak_strain_pct IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_cycles_to_failure_id_idx" ON "app"."evaluation"("team_id", "cycles_to_failure", "id") WHERE (cycles_to_failure IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_parts_per_build_id_idx" ON "app"."evaluation"("team_id", "parts_per_build", "id") WHERE (parts_per_build IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_total_hours_id_idx" ON "app"."evaluation"("team_id", "total_hours", "id") WHERE (total_hours IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_packing_density_pct_id_idx" ON "app"."evaluation"("team_id", "packing_density_pct", "id") WHERE (packing_density_pct IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_team_id_min_cell_opening_mm_id_idx" ON "app"."evaluation"("team_id", "min_cell_opening_mm", "id") WHERE (min_cell_opening_mm IS NOT NULL);

-- CreateIndex
CREATE UNIQUE INDEX "evaluation_request_key" ON "app"."evaluation"("computation_id", "version_id", "request_hash") NULLS NOT DISTINCT;

-- CreateIndex
CREATE UNIQUE INDEX "file_computation_id_name_key" ON "app"."file"("computation_id", "name");

-- AddForeignKey
ALTER TABLE "app"."api_key" ADD CONSTRAINT "api_key_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."catalogue_record" ADD CONSTRAINT "catalogue_record_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."catalogue_revision" ADD CONSTRAINT "catalogue_revision_record_id_fkey" FOREIGN KEY ("record_id") REFERENCES "app"."catalogue_record"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."design" ADD CONSTRAINT "design_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."version" ADD CONSTRAINT "version_design_id_fkey" FOREIGN KEY ("design_id") REFERENCES "app"."design"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."version" ADD CONSTRAINT "version_based_on_id_fkey" FOREIGN KEY ("based_on_id") REFERENCES "app"."version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."computation" ADD CONSTRAINT "computation_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."evaluation" ADD CONSTRAINT "evaluation_team_id_fkey" FOREIGN KEY ("team_id") REFERENCES "app"."team"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."evaluation" ADD CONSTRAINT "evaluation_computation_id_fkey" FOREIGN KEY ("computation_id") REFERENCES "app"."computation"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."evaluation" ADD CONSTRAINT "evaluation_design_id_fkey" FOREIGN KEY ("design_id") REFERENCES "app"."design"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."evaluation" ADD CONSTRAINT "evaluation_version_id_fkey" FOREIGN KEY ("version_id") REFERENCES "app"."version"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "app"."file" ADD CONSTRAINT "file_computation_id_fkey" FOREIGN KEY ("computation_id") REFERENCES "app"."computation"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Values that the schema language cannot state
ALTER TABLE "app"."api_key" ADD CONSTRAINT "api_key_role_check" CHECK ("role" IN ('admin', 'member'));
ALTER TABLE "app"."catalogue_record" ADD CONSTRAINT "catalogue_record_kind_check" CHECK ("kind" IN ('material', 'build-volume', 'reference'));
ALTER TABLE "app"."computation" ADD CONSTRAINT "computation_status_check" CHECK ("status" IN ('queued', 'running', 'done', 'failed', 'cancelled'));
ALTER TABLE "app"."evaluation" ADD CONSTRAINT "evaluation_status_check" CHECK ("status" IN ('queued', 'running', 'done', 'failed', 'cancelled'));
ALTER TABLE "app"."evaluation" ADD CONSTRAINT "evaluation_verdict_check" CHECK ("verdict" IN ('pass', 'warn', 'fail'));
ALTER TABLE "app"."computation" ADD CONSTRAINT "computation_finished_check" CHECK (("finished_at" IS NULL) = ("status" IN ('queued', 'running')));
ALTER TABLE "app"."evaluation" ADD CONSTRAINT "evaluation_finished_check" CHECK (("finished_at" IS NULL) = ("status" IN ('queued', 'running')));
