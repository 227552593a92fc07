import re
from datetime import timedelta

import django.db.models.deletion
from django.db import migrations, models

# How these were told by their words so far.
STOPS_USE = "Call the family today: stop use of "
TOLD_BY_A_FAMILY = re.compile(
    r"Call the family today: stop use of .{1,20}? until it has been seen\. (?:"
    r"The family reports that somebody is hurt\.|"
    r"The family cannot say if anybody is hurt\.|"
    r"The family reports smoke, fire or heat, or that it moved by itself\.|"
    r"The family cannot say if there was smoke, fire or heat, or if it moved by itself\.)"
    r"|Call the family about the problem they reported:"
)
DANGER = re.compile(r"Family link \d+\. Anyone hurt: \w+\. Smoke, fire, heat or moving by itself: (yes|unknown)\.")
AT_ONCE = timedelta(minutes=1)  # a report makes its problem and then its task, in one transaction


def known_by_words(apps, schema_editor):
    tasks = apps.get_model("builds", "Task").objects
    told = problems_of_families(apps)
    for task in tasks.filter(text__startswith="Call the family").order_by("pk"):
        task.stops_use = task.text.startswith(STOPS_USE)
        if TOLD_BY_A_FAMILY.match(task.text):
            task.problem_id = take_nearest(told.get(task.build_id, []), task.made_at)
        if task.stops_use or task.problem_id:
            tasks.filter(pk=task.pk).update(stops_use=task.stops_use, problem_id=task.problem_id)
    # What was not asked is unknown, as it was: a problem says "no" and "not asked" in the same words, by none.
    reports = apps.get_model("builds", "FamilyReport").objects
    for pk, text in list(reports.values_list("pk", "problem__text")):
        if said := DANGER.match(text):
            reports.filter(pk=pk).update(danger=said[1])


def problems_of_families(apps):
    """Build -> the problems that its family told, each as (when, pk)."""
    rows = apps.get_model("builds", "Problem").objects.filter(made_by=None).order_by("pk")
    found = {}
    for pk, build, made_at in rows.values_list("pk", "build_id", "made_at"):
        found.setdefault(build, []).append((made_at, pk))
    return found


def take_nearest(told, made_at):
    """The newest problem just before the task, which no other task is about; none where there was none."""
    near = [one for one in told if made_at - AT_ONCE <= one[0] <= made_at]
    if not near:
        return None
    nearest = max(near, key=lambda one: (one[0], -one[1]))
    told.remove(nearest)
    return nearest[1]


class Migration(migrations.Migration):

    dependencies = [
        ('builds', '0016_kinds_that_replaced_a_paper'),
    ]

    operations = [
        migrations.AddField(
            model_name='task',
            name='stops_use',
            field=models.BooleanField(default=False, verbose_name='Stops the use of the unit'),
        ),
        migrations.AddField(
            model_name='task',
            name='problem',
            field=models.ForeignKey(blank=True, null=True, on_delete=django.db.models.deletion.SET_NULL, related_name='tasks', to='builds.problem', verbose_name='What it is about'),
        ),
        migrations.AddField(
            model_name='familyreport',
            name='danger',
            field=models.CharField(choices=[('yes', 'Yes'), ('no', 'No'), ('unknown', 'Unknown')], default='unknown', max_length=10, verbose_name='Smoke, fire, heat or moving by itself'),
        ),
        migrations.RunPython(known_by_words, migrations.RunPython.noop, elidable=True),
    ]
