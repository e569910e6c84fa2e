"""Form parts that all rooms share."""

from django.forms.renderers import TemplatesSetting


class Renderer(TemplatesSetting):
    """Forms are drawn by templates/forms/: label, help, field and error, each tied to the other."""

    form_template_name = "forms/form.html"
    field_template_name = "forms/field.html"
