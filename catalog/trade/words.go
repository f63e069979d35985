package trade

// nothing stands for words of a heading that add nothing to it.
const nothing = "-"

// at is a word before a load: "RMS a 4 ohmios".
const at = "at"

// headings are the words of other languages by the English ones.
var headings = map[string]string{
	// what every part has
	"sku": `artikelnummer,artikel nr,artikel no,art nr,artnr,bestellnummer,bestell nr,best nr,teilenummer,artikelcode,
		reference,ref,reference article,code article,numero d article,code produit,
		codigo,referencia,cod,cod articulo,codigo de articulo,codigo articulo,n de articulo,sku codigo,
		codice,cod articolo,codice articolo,riferimento,rif,
		artikelnr,bestelnummer,bestelnr,productcode,
		codigo do artigo,codigo do produto,cod produto,
		kod,kod produktu,kod towaru,numer katalogowy,nr kat,nr katalogowy,symbol,indeks,artikelno,artikel id,bestellcode,art no,item id,ref produit,ref article,sku article,n article,no article,numero de referencia,n referencia,ref articulo,codice prodotto,cod prodotto,codice art,artikel code,art code,codigo artigo,ref artigo,n artigo,indeks towaru,nr artykulu,kod art`,
	"kind": `art,warengruppe,produktgruppe,kategorie,artikelgruppe,gruppe,typ des artikels,
		categorie,famille,type de produit,type d article,rayon,
		categoria,familia,tipo de producto,grupo,
		tipo di prodotto,gruppo,famiglia,
		productgroep,soort,productsoort,artikelgroep,
		tipo de produto,kategoria,grupa,rodzaj,grupa towarowa,typ produktu,produktart,artikelart,geratetyp,geratetart,was es ist,type de materiel,genre,nature,tipo de articulo,clase de producto,tipo articolo,genere,tipologia,soort product,type product,tipo de artigo,rodzaj produktu,typ towaru`,
	"name": `bezeichnung,artikelbezeichnung,beschreibung,artikel,produkt,produktname,modell,modellname,
		designation,libelle,description,article,produit,modele,nom,intitule,
		descripcion,articulo,producto,modelo,nombre,denominacion,
		descrizione,articolo,prodotto,modello,nome,denominazione,
		omschrijving,benaming,naam,productnaam,beschrijving,
		descricao,designacao,artigo,produto,
		nazwa,opis,produkt nazwa,nazwa produktu,nazwa towaru,towar,artikelname,produktbezeichnung,kurztext,titel,modellbezeichnung,type modele,nom du produit,reference modele,nombre del producto,modelo producto,nome prodotto,nome articolo,product,artikelomschrijving,nome do produto,nome do artigo,opis towaru,model produktu,nazwa modelu`,
	"brand": `marke,hersteller,fabrikat,marque,fabricant,marca,fabricante,marchio,produttore,costruttore,merk,fabrikant,producent,marka,firma,label,marken,maker,fabrik,fabrikaat,marca comercial,brand`,
	"price": `preis,vk preis,vk,verkaufspreis,einzelpreis,stuckpreis,endpreis,ladenpreis,bruttopreis,preis brutto,preis inkl mwst,preis inkl,
		prix,prix ttc,prix de vente,prix unitaire,pv ttc,pu ttc,
		precio,pvp,precio venta,precio de venta,precio unitario,precio iva incluido,precio con iva,
		prezzo,prezzo di vendita,prezzo unitario,prezzo iva inclusa,prezzo ivato,
		prijs,verkoopprijs,stukprijs,prijs incl btw,
		preco,preco de venda,preco unitario,pvp com iva,preco com iva,
		cena,cena brutto,cena detaliczna,cena sprzedazy,cena za szt,sell,retail,sell price,price inc vat,price inc tax,aktionspreis,angebotspreis,sonderpreis,unser preis,preis mit mwst,vk brutto,bruttoverkaufspreis,prix vente,prix promo,prix net ttc,notre prix,prix de vente ttc,precio oferta,nuestro precio,precio final,pvp con iva,pvp iva incluido,pvp iva inc,prezzo promo,prezzo offerta,prezzo finale,nostro prezzo,prezzo iva compresa,actieprijs,onze prijs,winkelprijs,prijs inclusief btw,consumentenprijs,preco promocional,preco final,nosso preco,preco de venda com iva,preco iva incluido,cena promocyjna,nasza cena,cena z vat,cena sprzedazy brutto`,
	"list price": `uvp,uvp inkl mwst,unverbindliche preisempfehlung,listenpreis,katalogpreis,prix public,prix public ttc,prix conseille,prix catalogue,tarif,tarif ttc,tarifa,pvp recomendado,precio recomendado,precio de catalogo,precio de lista,listino,prezzo listino,prezzo di listino,prezzo al pubblico,prezzo consigliato,adviesprijs,catalogusprijs,preco de tabela,preco recomendado,cena katalogowa,cena sugerowana,rrp,msrp,retail price`,
	"currency":   `wahrung,devise,monnaie,moneda,divisa,valuta,moeda,waluta`,
	"stock": `bestand,lagerbestand,auf lager,lager,menge,verfugbar,anzahl auf lager,stuckzahl,vorrat,
		quantite,qte,en stock,disponible,dispo,stock disponible,
		existencias,cantidad,cant,unidades,uds,en existencia,
		giacenza,quantita,qta,disponibilita,disponibili,pezzi,pz,magazzino,
		voorraad,aantal,op voorraad,beschikbaar,
		quantidade,qtd,qtde,em stock,estoque,disponivel,existencia,
		stan,ilosc,stan magazynowy,szt,dostepne,dostepnosc,na stanie,stuck,stk,anz,anzahl,verfugbarkeit,lieferbar,quantite en stock,qte stock,nb,nombre en stock,disponibilite,unidades disponibles,disponibilidad,quantita disponibile,qta disponibile,stuks,beschikbaarheid,unidades em stock,disponibilidade,stan mag,liczba sztuk,sztuk`,
	"store": `geschaft,filiale,handler,lieferant,magasin,fournisseur,boutique,tienda,proveedor,negozio,fornitore,winkel,leverancier,loja,fornecedor,sklep,dostawca`,
	"note":  `bemerkung,bemerkungen,hinweis,anmerkung,remarque,remarques,observaciones,nota,notas,note interne,opmerking,opmerkingen,observacoes,uwagi`,

	// speakers
	"size": `grosse,durchmesser,nenngrosse,korbgrosse,zollgrosse,membrandurchmesser,
		diametre,taille,diametro,tamano,medida,
		misura,dimensione,maat,diameter,formaat,tamanho,
		srednica,rozmiar,wielkosc,nenndurchmesser,diametre nominal,diametro nominal,tamano nominal,diametro nominale,nominale diameter,tamanho nominal,srednica nominalna,srednica glosnika`,
	"inches": `zoll,pouces,pulgadas,pollici,polegadas,cale,inch`,
	"coils": `schwingspule,schwingspulen,spule,spulen,spulenkonfiguration,
		bobine,bobines,bobine mobile,bobina,bobinas,bobina movil,bobina mobile,bobine mobili,
		spreekspoel,spoel,spoelen,spreekspoelen,bobina movel,
		cewka,cewki,uklad cewek,schwingspulen impedanz,spulenimpedanz,anzahl spulen,configuration bobine,configuration des bobines,configuracion de bobina,configurazione bobina,spoelconfiguratie,configuracao da bobina,konfiguracja cewki`,
	"impedance": `impedanz,nennimpedanz,impedance nominale,impedancia,impedenza,impedantie,impedancja,impedancia nominal,impedenza nominale,nominale impedantie,impedancja znamionowa`,
	"power":     `leistung,nennleistung,belastbarkeit,puissance,puissance nominale,puissance admissible,potencia,potencia nominal,potenza,potenza nominale,vermogen,nominaal vermogen,belastbaarheid,moc,moc znamionowa,moc nominalna,ausgangsleistung,puissance de sortie,potencia de salida,potenza di uscita,uitgangsvermogen,potencia de saida,moc wyjsciowa`,
	"rms power": `leistung rms,rms leistung,nennleistung rms,belastbarkeit rms,rms belastbarkeit,sinusleistung,dauerleistung,
		puissance rms,puissance efficace,puissance continue,
		potencia rms,potencia eficaz,potencia continua,potenza rms,potenza continua,potenza efficace,
		vermogen rms,rms vermogen,continu vermogen,moc rms,moc ciagla,moc skuteczna,moc sinus,leistung sinus,nennleistung sinus,dauerbelastbarkeit,watt rms,w rms,puissance nominale rms,watts rms,tenue en puissance rms,potencia nominal rms,vatios rms,potenza nominale rms,potenza rms nominale,tenuta in potenza rms,nominaal vermogen rms,continu vermogen rms,belastbaarheid rms,moc znamionowa rms,moc nominalna rms,moc ciagla rms`,
	"max power": `leistung max,max leistung,maximalleistung,maximale leistung,spitzenleistung,musikleistung,
		puissance max,puissance maximale,puissance maxi,puissance crete,puissance musicale,
		potencia max,potencia maxima,potencia pico,potencia de pico,potencia musical,potenza max,potenza massima,potenza di picco,
		vermogen max,max vermogen,maximaal vermogen,piekvermogen,moc max,moc maksymalna,moc szczytowa,moc muzyczna,max belastbarkeit,belastbarkeit max,spitzenbelastbarkeit,impulsleistung,puissance impulsionnelle,puissance maximum,puissance de crete,potencia maximo,potenza massimale,potenza musicale,potenza impulsiva,maximum vermogen,muziekvermogen,potencia pico maxima,moc impulsowa,moc maks`,
	"resonance frequency": `resonanzfrequenz,eigenresonanz,freiluftresonanz,frequence de resonance,frecuencia de resonancia,frequenza di risonanza,resonantiefrequentie,
		frequencia de ressonancia,czestotliwosc rezonansowa,rezonans`,
	"total q":           `gesamtgute,qts gesamt,coefficient de qualite total,facteur de qualite total,fattore di merito totale,dobroc calkowita`,
	"equivalent volume": `aquivalentvolumen,aquivalentes volumen,aequivalentvolumen,volume equivalent,volumen equivalente,volume equivalente,equivalent volume vas,objetosc ekwiwalentna`,
	"excursion":         `hub,linearer hub,linearhub,auslenkung,debattement,elongation,excursion lineaire,excursion,excursion max lineaire,excursion lineal,recorrido,desplazamiento,excursion maxima lineal,escursione,escursione lineare,uitslag,conusuitslag,lineaire uitslag,excursao,excursao linear,wychylenie,wychylenie liniowe`,
	"cone area":         `membranflache,surface de membrane,surface emissive,superficie de membrana,superficie del cono,superficie della membrana,conusoppervlak,area do cone,powierzchnia membrany`,
	"dc resistance":     `gleichstromwiderstand,resistance dc,resistance continue,resistencia dc,resistenza dc,gelijkstroomweerstand,rezystancja dc`,
	"inductance":        `induktivitat,inductancia,induttanza,inductantie,indutancia,indukcyjnosc`,
	"force factor":      `kraftfaktor,facteur de force,factor de fuerza,fattore di forza,krachtfactor,fator de forca`,
	"moving mass":       `bewegte masse,masse mobile,masa movil,massa mobile,bewegende massa,massa movel,masa drgajaca`,
	"sensitivity":       `empfindlichkeit,kennschalldruck,wirkungsgrad,sensibilite,rendement,sensibilidad,sensibilita,efficienza,gevoeligheid,sensibilidade,czulosc,skutecznosc`,
	"mounting depth":    `einbautiefe,profondeur d encastrement,profondeur de montage,profundidad de montaje,profundidad de encastre,profondita di montaggio,profondita incasso,inbouwdiepte,profundidade de montagem,glebokosc montazowa,einbau tiefe`,
	"mounting hole diameter": `einbaudurchmesser,einbauoffnung,lochausschnitt,ausschnitt,diametre d encastrement,diametre de decoupe,diametro de corte,diametro de montaje,foro di montaggio,
		diametro foro,inbouwdiameter,inbouwmaat,diametro de montagem,srednica otworu,srednica montazowa,otwor montazowy`,

	// amplifiers
	"channels":            `kanale,anzahl kanale,kanalzahl,canaux,nombre de canaux,nb canaux,voies,canales,numero de canales,canali,numero canali,kanalen,aantal kanalen,canais,numero de canais,kanaly,liczba kanalow,ilosc kanalow,liczba kanal,kanal,canal,canale,kanaal,kanalen aantal,n canaux,n canales,n canali,nr kanalow,num canales,num canais`,
	"bridged":             `gebruckt,bruckenbetrieb,brucke,ponte,bridge,en pont,puente,en puente,a puente,puenteado,a ponte,in ponte,gebrugd,em ponte,mostek,zmostkowany,w mostku,mostkowo`,
	"fuse":                `sicherung,sicherungen,absicherung,fusible,fusibles,fusibile,fusibili,zekering,zekeringen,fusivel,fusiveis,bezpiecznik,bezpieczniki,sicherungswert,kfz sicherung,fusible recommande,porta fusibile,wartosc bezpiecznika`,
	"class":               `klasse,verstarkerklasse,schaltung,classe,clase,klasa`,
	"high pass":           `hochpass,hochpassfilter,passe haut,filtre passe haut,paso alto,filtro paso alto,passa alto,filtro passa alto,hoogdoorlaat,hoogdoorlaatfilter,filtro passa altas,passa altas,gornoprzepustowy,filtr gornoprzepustowy`,
	"low pass":            `tiefpass,tiefpassfilter,passe bas,filtre passe bas,paso bajo,filtro paso bajo,passa basso,filtro passa basso,laagdoorlaat,laagdoorlaatfilter,filtro passa baixas,passa baixas,dolnoprzepustowy,filtr dolnoprzepustowy`,
	"bass remote":         `bassfernbedienung,bass fernbedienung,pegelfernbedienung,telecommande de basse,mando de graves,controllo bassi,basregelaar,controle de graves,pilot basu,regulator basu`,
	"speaker level input": `hochpegeleingang,high level eingang,hochpegel,entree haut niveau,entrees haut niveau,entrada de alto nivel,entrada alto nivel,ingresso alto livello,ingressi alto livello,hoogniveau ingang,hoog niveau ingang,wejscie wysokopoziomowe,wejscie glosnikowe`,

	// boxes
	"box type": `gehauseart,gehausetyp,ausfuhrung,bauart,bauform,prinzip,type de caisson,type de caisse,type de charge,charge,tipo de cajon,tipo caja,tipo di cassa,caricamento,
		type behuizing,type kist,uitvoering,tipo de caixa,typ obudowy,rodzaj obudowy`,
	"type": `tipo,typ`,
	"net volume": `nettovolumen,netto volumen,innenvolumen,volumen netto,volumen,gehausevolumen,
		volume,volume net,volume interne,volume utile,litrage,volumen neto,volumen interno,litros,
		volume netto,volume interno,litri,netto volume,netto inhoud,inhoud,volume liquido,volume util,
		objetosc,objetosc netto,pojemnosc,pojemnosc netto,nettoinhalt,volume net interne`,
	"tuning frequency": `abstimmung,abstimmfrequenz,tuningfrequenz,abstimmung hz,accord,frequence d accord,accordage,sintonia,sintonizacion,frecuencia de sintonia,frecuencia de sintonizacion,
		accordo,frequenza di accordo,afstemming,afstemfrequentie,frequencia de sintonia,sintonizacao,strojenie,czestotliwosc strojenia`,
	"outside dimensions": `aussenmasse,abmessungen,masse,masse b x t x h,masse bxtxh,aussenabmessungen,dimensions exterieures,dimensions externes,encombrement,
		medidas exteriores,medidas externas,dimensiones,dimensiones exteriores,medidas,
		dimensioni,dimensioni esterne,misure esterne,buitenmaten,afmetingen,buitenafmetingen,
		dimensoes,dimensoes externas,wymiary,wymiary zewnetrzne`,
	"for drivers": `fur lautsprecher,passend fur,fur chassis,pour haut parleur,pour hp,para altavoz,per altoparlante,voor luidspreker,voor speaker,para altifalante,para alto falante,na glosnik,do glosnika`,

	// wiring
	"gauge": `querschnitt,kabelquerschnitt,section,section cable,section du cable,seccion,seccion cable,calibre,sezione,sezione cavo,doorsnede,kabeldoorsnede,kabeldikte,
		seccao,bitola,przekroj,przekroj kabla,przekroj przewodu,aderquerschnitt,leiterquerschnitt,kabelstarke,section conducteur,seccion conductor,sezione conduttore,seccao do cabo,seccao do condutor,pole przekroju`,
	"material":     `werkstoff,leiter,leitermaterial,matiere,materiau,conducteur,materiale,conduttore,conductor,materiaal,geleider,condutor,material do condutor,przewodnik,material przewodu`,
	"cable length": `lange,kabellange,longueur,longueur cable,longueur du cable,longitud,longitud cable,largo,lunghezza,lunghezza cavo,lengte,kabellengte,comprimento,comprimento do cabo,dlugosc,dlugosc kabla,dlugosc przewodu,metrage`,

	// the rest
	"preamp outputs":      `vorverstarkerausgange,cinch ausgange,cinchausgange,vorverstarker ausgange,sorties rca,sorties pre ampli,sorties preout,salidas rca,salidas de previo,uscite rca,uscite pre,rca uitgangen,saidas rca,wyjscia rca,wyjscia`,
	"capacitance":         `kapazitat,capacite,capacidad,capacita,capaciteit,capacitancia,pojemnosc elektryczna`,
	"built in power":      `eingebaute leistung,puissance interne,puissance integree,potencia interna,potencia integrada,potenza interna,ingebouwd vermogen,moc wbudowana`,
	"outputs":             `ausgange,sorties,salidas,uscite,uitgangen,saidas`,
	"weight":              `gewicht,poids,peso,waga`,
	"cost to the shop":    `ek,ek preis,einkaufspreis,prix d achat,precio de compra,precio coste,prezzo di acquisto,inkoopprijs,preco de compra,preco de custo,cena zakupu`,
	"price without a tax": `nettopreis,preis netto,preis zzgl mwst,prix ht,pu ht,precio sin iva,prezzo iva esclusa,prezzo senza iva,prijs excl btw,preco sem iva,cena netto`,

	// words inside headings
	"ohm":    `ohms,ohmios,ohmio,ω`,
	at:       `an,bei,bij,sur,a,auf,op,em,przy,su,sous,en`,
	"watt":   `watts,vatios,wat,watow`,
	"mono":   `monaural,monoblock`,
	"stereo": `estereo`,
	nothing:  `pro kanal,je kanal,par canal,por canal,per canale,per kanaal,na kanal`,
}

// asks are the words that stand where a price would, when it has to be asked
// for.
const asks = `call,call us,call in,call for price,on request,price on request,poa,p o a,on application,ask,ask us,ask in store,inquire,enquire,tba,tbc,
	auf anfrage,anfrage,preis auf anfrage,a a,tagespreis,
	sur demande,prix sur demande,nous consulter,nous contacter,n c,
	consultar,a consultar,precio a consultar,bajo pedido,bajo consulta,preguntar,
	a richiesta,su richiesta,prezzo a richiesta,prezzo su richiesta,chiedere,
	op aanvraag,prijs op aanvraag,bel voor prijs,navragen,
	sob consulta,a consultar,preco sob consulta,a pedido,
	zapytaj,zapytaj o cene,cena na zapytanie,na zapytanie,do uzgodnienia,telefon`

// unitNames are the words for units by those that the files take.
var unitNames = map[string]string{
	"in":  `zoll,pouce,pouces,po,pulgada,pulgadas,pulg,polegada,polegadas,pol,pollice,pollici,duim,cal,cale,cali,inch,inches`,
	"ohm": `ohms,ohmios,ohmio,omow,om,ohmia`,
	"W":   `watt,watts,vatios,vatio,wat,watow`,
	"L":   `liter,litre,litres,liters,litro,litros,litri,litr,litrow,ltr`,
	"Hz":  `hertz,hercow`,
	"cm":  `centimetre,centimetres,centimetros,centimetri,centymetrow`,
	"m":   `metre,metres,metro,metros,metri,meter,metrow`,
	"mm2": `mmq,qmm,mm q,mm quadrati,millimetres carres,mm carre`,
	"A":   `ampere,amperes,amperios,amperow,amp,amps`,
}
