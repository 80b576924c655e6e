-- A client's object gives size and mass, so their bands lead most questions. Their indexes hold besides what such questions ask and sort by:
-- a band is read and sorted without a look at the table. history-statement.ts counts on these columns.

-- DropIndex
DROP INDEX "app"."evaluation_team_id_mass_g_id_idx";
DROP INDEX "app"."evaluation_team_id_outside_diameter_mm_id_idx";
DROP INDEX "app"."evaluation_team_id_circumference_mm_id_idx";

-- CreateIndex
CREATE INDEX "evaluation_mass_g_idx" ON "app"."evaluation"("team_id", "mass_g", "id", "created_at", "status", "verdict", "material", "stiffness_n_per_mm", "rebound_height_mm", "peak_force_n", "cycles_to_failure", "total_per_part") WHERE (mass_g IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_outside_diameter_mm_idx" ON "app"."evaluation"("team_id", "outside_diameter_mm", "id", "created_at", "status", "verdict", "material", "mass_g", "stiffness_n_per_mm", "rebound_height_mm", "peak_force_n", "cycles_to_failure", "total_per_part") WHERE (outside_diameter_mm IS NOT NULL);

-- CreateIndex
CREATE INDEX "evaluation_circumference_mm_idx" ON "app"."evaluation"("team_id", "circumference_mm", "id", "created_at", "status", "verdict", "material", "mass_g", "stiffness_n_per_mm", "rebound_height_mm", "peak_force_n", "cycles_to_failure", "total_per_part") WHERE (circumference_mm IS NOT NULL);
