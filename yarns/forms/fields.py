"""Fields that read a maker's way of writing and hand on whole units."""

from collections.abc import Callable, Iterable
from decimal import Decimal
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext_lazy as _

from craft.standards.codes import InvalidCodeError, gtin_shown, read_gtin
from yarns import typed


class TypedField(forms.CharField):
    """Text that `reader` turns into a value; nothing typed is `empty`."""

    def __init__(
        self,
        reader: Callable[[str], Any],
        *,
        empty: Any = None,
        show: Callable[[Any], str] = str,
        **kwargs: Any,
    ) -> None:
        self.reader, self.empty, self.show = reader, empty, show
        kwargs.setdefault("max_length", 120)
        super().__init__(**kwargs)

    def clean(self, value: Any) -> Any:
        words = super().clean(value)
        if not words:
            return self.empty
        try:
            return self.reader(words)
        except (typed.TypedError, InvalidCodeError) as refusal:
            raise forms.ValidationError(str(refusal), code="unread") from refusal

    def prepare_value(self, value: Any) -> Any:
        """A stored value as it would be typed; what was typed stays as it is."""
        return value if value is None or isinstance(value, str) else self.show(value)

    def has_changed(self, initial: Any, data: Any) -> bool:
        return str(self.prepare_value(initial) or "") != str(data or "")


def thousandths(count: int) -> str:
    """190000 as "190", 1500 as "1.5"."""
    return f"{(Decimal(count) / 1000).normalize():f}"


def mass_field(**kwargs: Any) -> TypedField:
    return TypedField(typed.read_mass_mg, show=thousandths, **_short(kwargs))


def length_field(**kwargs: Any) -> TypedField:
    return TypedField(typed.read_length_mm, show=thousandths, **_short(kwargs))


def hook_field(**kwargs: Any) -> TypedField:
    return TypedField(typed.read_hook_um, show=thousandths, **_short(kwargs))


def fibres_field(**kwargs: Any) -> TypedField:
    def show(fibres: Any) -> str:
        return typed.fibres_shown(fibres).replace("\u00a0", " ")

    return TypedField(typed.read_fibres, empty=[], show=show, **kwargs)


class BarcodeField(TypedField):
    """A barcode; kept as 14 digits, shown as on the band."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(read_gtin, empty="", **_short(kwargs, inputmode="numeric"))

    def prepare_value(self, value: Any) -> Any:
        return gtin_shown(value) if isinstance(value, str) and len(value) == 14 else value


def _short(kwargs: dict[str, Any], **attributes: str) -> dict[str, Any]:
    attributes.setdefault("autocomplete", "off")
    return {"widget": forms.TextInput(attrs={"size": 12, **attributes}), **kwargs}


class KeyedForm(forms.Form):
    """A form that books: it carries the key under which it counts once."""

    key = forms.CharField(widget=forms.HiddenInput, max_length=64)

    def clean(self) -> dict[str, Any] | None:
        cleaned = super().clean()
        if any(field.errors for field in self.hidden_fields()):
            raise forms.ValidationError(
                _("A part of this form got lost. Open the page again and repeat it."), code="lost"
            )
        return cleaned


class Suggesting(forms.TextInput):
    """A text field with the known names to choose from; any other may be typed."""

    template_name = "yarns/widgets/suggesting.html"

    def __init__(self, names: Callable[[], Iterable[str]], **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.names = names

    def get_context(self, name: str, value: Any, attrs: Any) -> dict[str, Any]:
        context = super().get_context(name, value, attrs)
        list_id = f"{context['widget']['attrs'].get('id', name)}_names"
        context["widget"]["attrs"].update({"list": list_id, "autocomplete": "off"})
        context["widget"].update({"list_id": list_id, "names": list(self.names())})
        return context


class ShadeField(forms.CharField):
    """A colour as #rrggbb; capitals are taken, and nothing means not known."""

    default_error_messages = {"shade": _("Write the shade as # and six of 0-9 and a-f.")}

    def __init__(self, **kwargs: Any) -> None:
        widget = forms.TextInput(attrs={"size": 8, "placeholder": "#27456b", "data-shade": ""})
        super().__init__(**{"max_length": 7, "widget": widget, **kwargs})

    def clean(self, value: Any) -> str:
        shade = str(super().clean(value)).lower()
        shade = f"#{shade}" if len(shade) == 6 else shade
        digits = shade[1:]
        if shade and not (len(shade) == 7 and shade[0] == "#" and set(digits) <= set("0123456789abcdef")):
            raise forms.ValidationError(self.error_messages["shade"], code="shade")
        return shade


def put_in(form: forms.BaseForm, **facts: str) -> None:
    """Change what a sent form carries along, such as the version it was opened on."""
    sent = QueryDict(mutable=True)
    sent.update(form.data)
    for name, value in facts.items():
        sent[form.add_prefix(name)] = value
    form.data = sent
