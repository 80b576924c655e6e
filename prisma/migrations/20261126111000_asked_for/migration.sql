-- Whether somebody asked for the evaluation itself: what an undertaking cancels leaves those alone. Members so far are of undertakings alone.
ALTER TABLE "app"."evaluation" ADD COLUMN "asked_for" BOOLEAN NOT NULL DEFAULT true;
update app.evaluation set asked_for = false where id in (select evaluation_id from app.member);
