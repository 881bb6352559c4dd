"""Triggers of the database: a frozen survey and its sightings are not written again, by whatever way."""

from typing import Any

from django.db import connections

SQLITE = (
    """CREATE TRIGGER IF NOT EXISTS survey_stays BEFORE UPDATE ON shop_survey
       WHEN OLD.frozen_at IS NOT NULL
       BEGIN SELECT RAISE(ABORT, 'the survey is frozen'); END""",
    """CREATE TRIGGER IF NOT EXISTS sighting_stays BEFORE UPDATE ON shop_sighting
       WHEN EXISTS (SELECT 1 FROM shop_survey s
                    WHERE s.id IN (OLD.survey_id, NEW.survey_id) AND s.frozen_at IS NOT NULL)
       BEGIN SELECT RAISE(ABORT, 'the survey is frozen'); END""",
    """CREATE TRIGGER IF NOT EXISTS sighting_not_added BEFORE INSERT ON shop_sighting
       WHEN EXISTS (SELECT 1 FROM shop_survey s WHERE s.id = NEW.survey_id AND s.frozen_at IS NOT NULL)
       BEGIN SELECT RAISE(ABORT, 'the survey is frozen'); END""",
)
POSTGRESQL = (
    """CREATE OR REPLACE FUNCTION survey_stays() RETURNS trigger LANGUAGE plpgsql AS $$
       BEGIN
         IF OLD.frozen_at IS NOT NULL THEN RAISE EXCEPTION 'the survey is frozen'; END IF;
         IF TG_OP = 'DELETE' THEN RETURN OLD; END IF;
         RETURN NEW;
       END $$""",
    """CREATE OR REPLACE FUNCTION sighting_stays() RETURNS trigger LANGUAGE plpgsql AS $$
       DECLARE held uuid;
       BEGIN
         IF TG_OP = 'INSERT' THEN held := NEW.survey_id; ELSE held := OLD.survey_id; END IF;
         IF EXISTS (SELECT 1 FROM shop_survey s WHERE s.id = held AND s.frozen_at IS NOT NULL)
           THEN RAISE EXCEPTION 'the survey is frozen'; END IF;
         IF TG_OP = 'DELETE' THEN RETURN OLD; END IF;
         RETURN NEW;
       END $$""",
    "DROP TRIGGER IF EXISTS survey_stays ON shop_survey",
    """CREATE TRIGGER survey_stays BEFORE UPDATE OR DELETE ON shop_survey
       FOR EACH ROW EXECUTE FUNCTION survey_stays()""",
    "DROP TRIGGER IF EXISTS sighting_stays ON shop_sighting",
    """CREATE TRIGGER sighting_stays BEFORE INSERT OR UPDATE OR DELETE ON shop_sighting
       FOR EACH ROW EXECUTE FUNCTION sighting_stays()""",
)


def lay_triggers(using: str = "default", **_: Any) -> None:
    """After every migration: a table that was built anew has its triggers again."""
    connection = connections[using]
    if "shop_sighting" not in connection.introspection.table_names():
        return
    statements = {"sqlite": SQLITE, "postgresql": POSTGRESQL}[connection.vendor]
    with connection.cursor() as cursor:
        for statement in statements:
            cursor.execute(statement)
