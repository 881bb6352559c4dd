"""The migrations say what the models say."""

from django.core.management import call_command


def test_no_model_has_changed_without_a_migration(db):
    call_command("makemigrations", "shop", check=True, dry_run=True, verbosity=0)
